// What a photo begins with: finished designs to choose from, large.
import { useEffect, useState } from 'preact/hooks';
import type { Block } from '../../../block.ts';
import type { Settings, Work, WorkFigure } from '../../api.ts';
import { BlockSmall } from '../block/block-small.tsx';
import { set, settingsNow } from '../store/actions.ts';
import { recall, remember } from '../store/browser-memory.ts';
import { at, server } from '../store/server.ts';
import { usePart } from '../store/state.ts';
import { StatusLine } from '../work/status-line.tsx';
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

export interface Offer {
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

const kept = (id: string): string => `designs-${id}`;

/** What is offered of a work; undefined where nothing is, or it has been decided. Once offered, designs stay until one is chosen: what is
 *  under a hand must not move. */
export function useOffer(work: Work): OpenOffer | undefined {
  const wanted = usePart((s) => s.wanted);
  const [done, setDone] = useState(() => recall(kept(work.id), false));
  const [offered, setOffered] = useState<Offer>();
  const offer = done ? undefined : (offered ?? offerOf(work, settingsNow(work, wanted)));
  useEffect(() => {
    if (offer) setOffered(offer);
  }, [offer !== undefined]);
  const close = (): void => {
    remember(kept(work.id), true);
    setDone(true);
  };
  return offer && { ...offer, close };
}

export interface OpenOffer extends Offer {
  readonly close: () => void;
}

export function FirstDesigns({ work, offer }: { readonly work: Work; readonly offer: OpenOffer }) {
  const [looks, setLooks] = useState<Readonly<Record<string, Block>>>({});
  const [gone, setGone] = useState<readonly string[]>([]);
  useEffect(() => {
    const stop = new AbortController();
    const load = async (): Promise<void> => {
      for (const { show, settings } of offer.designs.filter((d) => d.show !== offer.own))
        await server.look(work.id, settings, stop.signal).then(
          (block) => setLooks((before) => ({ ...before, [show]: block })),
          // one that cannot be had is not offered
          () => setGone((before) => [...before, show]),
        );
    };
    void load();
    return () => stop.abort();
  }, [work.id]);
  return (
    <section class="first-designs" aria-labelledby="designs-title">
      <div class="designs-head">
        <img src={at.picture(work.id)} alt="" />
        <div>
          <h2 id="designs-title">Choose a design to start with</h2>
          <p class="hint">These are first looks. You can change everything later.</p>
          <StatusLine work={work} />
        </div>
        <button type="button" onClick={offer.close}>
          Decide later
        </button>
      </div>
      <ul>
        {offer.designs
          .filter((d) => !gone.includes(d.show))
          .map((d) => {
            const own = d.show === offer.own;
            const block = looks[d.show] ?? (own ? work.block : undefined);
            const choose = (): void => {
              offer.close();
              // what it is already is not made again
              if (!own || work.undo) set(d.settings);
            };
            return (
              <li key={d.show}>
                <button type="button" class={own ? 'design own' : 'design'} disabled={!block} onClick={choose}>
                  {block ? (
                    <BlockSmall block={block} />
                  ) : (
                    <span class="block-wait">The design appears here in a moment.</span>
                  )}
                  <span class="design-name">{d.label}</span>
                  {own && <span class="hint">{work.choices?.figure?.why}</span>}
                </button>
              </li>
            );
          })}
      </ul>
    </section>
  );
}
