// Sewing: one step after another, with ticks; large, to stand beside the machine.
import { useEffect, useState } from 'preact/hooks';
import type { Work } from '../../api.ts';
import { BlockSmall } from '../block/block-small.tsx';
import { Chips } from '../parts/chips.tsx';
import { TickBox } from '../parts/tick-box.tsx';
import { wholeMeasures } from '../parts/whole-measures.ts';
import { useFetched } from '../store/fetched.ts';
import { server } from '../store/server.ts';
import { Cautions } from './cautions.tsx';
import { useScreenOn } from './keep-awake.ts';
import { type SewingStep, sewingSteps, stepTitle, stepWords } from './sewing-steps.ts';
import { type Side, StepPicture } from './step-picture.tsx';
import { TabletDoor } from './tablet-door.tsx';
import { useTicks } from './use-ticks.ts';

export function SewScreen({ work }: { readonly work: Work }) {
  const { block } = work;
  if (!block) return <p class="pane">There is no block to sew yet.</p>;
  return <Sewing key={work.id} work={work} block={block} />;
}

function Sewing({ work, block }: { readonly work: Work; readonly block: NonNullable<Work['block']> }) {
  const steps = sewingSteps(block);
  const [ticks, setTick] = useTicks(work.id);
  const firstOpen = steps.findIndex((s) => !ticks.includes(s.key));
  const [went, setAt] = useState<number>();
  const at = went ?? Math.max(0, firstOpen);
  const [side, setSide] = useState<Side>('front');
  const [large, setLarge] = useState(false);
  const awake = useScreenOn(large);
  const list = useFetched(`${work.id} ${work.revision}`, true, () => server.fabric(work.id));
  const index = Math.min(at, steps.length - 1);
  const step = steps[index]!;
  const done = steps.filter((s) => ticks.includes(s.key)).length;

  const tick = (on: boolean): void => setTick(step.key, on);
  const forward = (): void => {
    if (!ticks.includes(step.key)) tick(true);
    setAt(Math.min(index + 1, steps.length - 1));
  };
  useEffect(() => {
    const keys = (e: KeyboardEvent): void => {
      const inField =
        e.target instanceof HTMLElement && /^(INPUT|SELECT|TEXTAREA|BUTTON|A|SUMMARY)$/.test(e.target.tagName);
      if (e.key === 'Escape') setLarge(false);
      if (inField || e.ctrlKey || e.metaKey) return;
      if (e.key === 'ArrowRight' || e.key === 'ArrowLeft') {
        e.preventDefault();
        setAt(Math.max(0, Math.min(steps.length - 1, at + (e.key === 'ArrowRight' ? 1 : -1))));
      }
    };
    addEventListener('keydown', keys);
    return () => removeEventListener('keydown', keys);
  }, [steps.length, at]);
  const name = stepTitle(step);
  const patch =
    step.kind === 'piece'
      ? findPatch(
          list.value?.fabrics.flatMap((f) => f.patches),
          name,
        )
      : undefined;
  const all = index === steps.length - 1 && ticks.includes(step.key);
  return (
    <section class={large ? 'pane sew large' : 'pane sew'} aria-labelledby="sew-title">
      <div class="pane-head">
        <h2 id="sew-title">Sew</h2>
        <p class="hint">
          {done} of {steps.length} steps ticked
        </p>
        <button type="button" aria-pressed={large} onClick={() => setLarge(!large)}>
          {large ? 'Back to the page' : 'Full screen for sewing'}
        </button>
        <TabletDoor work={work.id} />
        {awake && <span class="badge">screen stays on</span>}
      </div>
      {!large && <Cautions />}
      <PlaceInBlock block={block} steps={steps} index={index} ticks={ticks} onGo={setAt} />
      <div class="step">
        <StepPicture block={block} step={step} side={side} />
        <div class="step-words" aria-live="polite">
          <h3>{name}</h3>
          {stepWords(block, step, work.settings.units, patch).map((w) => (
            <p key={w}>{wholeMeasures(w)}</p>
          ))}
          {all && (
            <p>
              <strong>That was the last join. The block is sewn.</strong>
            </p>
          )}
          <TickBox checked={ticks.includes(step.key)} onTick={tick}>
            done
          </TickBox>
          <Chips
            label="Seen from"
            value={side}
            chips={[
              { value: 'front', label: 'the front' },
              { value: 'paper', label: 'the paper side' },
            ]}
            onPick={setSide}
          />
        </div>
      </div>
      <div class="step-buttons">
        <button type="button" disabled={index === 0} onClick={() => setAt(index - 1)}>
          Back
        </button>
        <button type="button" class="main-button" disabled={all} onClick={forward}>
          {index === steps.length - 1 ? 'Done' : 'Done, next'}
        </button>
        <button type="button" disabled={index === steps.length - 1} onClick={() => setAt(index + 1)}>
          Look ahead
        </button>
      </div>
    </section>
  );
}

/** "B3: 2 1/4 x 4 in" -> the size, for B3 */
const findPatch = (patches: readonly string[] | undefined, name: string): string | undefined =>
  patches
    ?.find((p) => p.startsWith(`${name}:`))
    ?.slice(name.length + 1)
    .trim();

function PlaceInBlock(props: {
  readonly block: NonNullable<Work['block']>;
  readonly steps: readonly SewingStep[];
  readonly index: number;
  readonly ticks: readonly string[];
  readonly onGo: (at: number) => void;
}) {
  const { block, steps, index } = props;
  const here = steps[index]!;
  const lit = here.kind === 'join' ? [...here.join.left, ...here.join.right] : [here.section.id];
  const part = (s: SewingStep): string => (s.kind === 'join' ? 'joins' : s.section.id);
  const parts = [...new Set(steps.map(part))];
  const sewn = (p: string): boolean => steps.filter((s) => part(s) === p).every((s) => props.ticks.includes(s.key));
  return (
    <div class="sew-place">
      <BlockSmall block={block} lit={lit} label={`Where it lies: ${lit.join(', ')}`} />
      <label class="field">
        <span>Go to</span>
        <select
          value={part(here)}
          onChange={(e) => props.onGo(steps.findIndex((s) => part(s) === e.currentTarget.value))}
        >
          {parts.map((p) => (
            <option key={p} value={p}>
              {p === 'joins' ? 'the joins' : `section ${p}`}
              {sewn(p) ? ' (sewn)' : ''}
            </option>
          ))}
        </select>
      </label>
    </div>
  );
}
