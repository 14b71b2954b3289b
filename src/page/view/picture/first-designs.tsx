// What a photo begins with: finished designs to choose from, large.
import { useEffect, useState } from 'preact/hooks';
import type { Block } from '../../../block.ts';
import type { Settings, Work, WorkFigure } from '../../api.ts';
import { BlockSmall } from '../block/block-small.tsx';
import { set, settingsNow } from '../store/actions.ts';
import { recall, remember } from '../store/browser-memory.ts';
import { server } from '../store/server.ts';
import { usePart } from '../store/state.ts';
import { toShow } from './what-is-shown.ts';

interface Design {
  readonly show: WorkFigure['show'];
  readonly label: string;
  readonly settings: Partial<Settings>;
}

const DESIGNS: readonly Design[] = [
  { show: 'head', label: 'Head on a plain background', settings: toShow('head') },
  { show: 'animal', label: 'Whole animal on a plain background', settings: toShow('animal') },
  { show: 'picture', label: 'Picture as it is', settings: { ...toShow('picture'), background: 'keep' } },
];

interface Offer {
  readonly designs: readonly Design[];
  /** the one that the block is already */
  readonly own: Design['show'];
}

/** Those that there can be of this photo; none once something was set. */
function offerOf(work: Work, { kind, show, crop, background, subject }: Settings): Offer | undefined {
  const { choices } = work;
  const untouched = [kind, show, crop, background].every((v) => v === 'auto') && !subject && !work.undo;
  if (!work.picture || !untouched || !choices?.figure || choices.sheet) return undefined;
  const { head, show: own } = choices.figure;
  const designs = DESIGNS.filter((d) => (d.show === 'head' ? head : d.show === 'animal' ? choices.subject : true));
  return designs.length > 1 ? { designs, own } : undefined;
}

export function FirstDesigns({ work }: { readonly work: Work }) {
  const wanted = usePart((s) => s.wanted);
  const kept = `designs-${work.id}`;
  const [done, setDone] = useState(() => recall(kept, false));
  const [looks, setLooks] = useState<Readonly<Record<string, Block>>>({});
  // once offered they stay until one is chosen: what is under a hand must not move
  const [offered, setOffered] = useState<Offer>();
  const offer = done ? undefined : (offered ?? offerOf(work, settingsNow(work, wanted)));
  useEffect(() => {
    if (!offer) return;
    setOffered(offer);
    const stop = new AbortController();
    const load = async (): Promise<void> => {
      for (const { show, settings } of offer.designs.filter((d) => d.show !== offer.own)) {
        const block = await server.look(work.id, settings, stop.signal);
        setLooks((before) => ({ ...before, [show]: block }));
      }
    };
    // one that cannot be had is not offered
    load().catch(() => {});
    return () => stop.abort();
  }, [offer !== undefined]);
  if (!offer) return null;
  const close = (): void => {
    remember(kept, true);
    setDone(true);
  };
  return (
    <section class="pane first-designs" aria-labelledby="designs-title">
      <div class="pane-head">
        <h2 id="designs-title">Choose a design</h2>
        <button type="button" onClick={close}>
          Decide later
        </button>
      </div>
      <ul>
        {offer.designs.map((d) => {
          const block = looks[d.show] ?? (d.show === offer.own ? work.block : undefined);
          const choose = (): void => {
            close();
            // what it is already is not made again
            if (d.show !== offer.own || work.undo) set(d.settings);
          };
          return (
            <li key={d.show}>
              <button type="button" class="design" disabled={!block} onClick={choose}>
                {block ? (
                  <BlockSmall block={block} />
                ) : (
                  <span class="block-wait">The design appears here in a moment.</span>
                )}
                <span class="design-name">{d.label}</span>
              </button>
            </li>
          );
        })}
      </ul>
      <p class="hint">These are first looks. You can change everything later.</p>
    </section>
  );
}
