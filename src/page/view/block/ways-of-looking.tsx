// Ways of looking at the block: colours, values, other people's eyes; seams, numbers, finished size, cloth.
import { useId } from 'preact/hooks';
import type { Work } from '../../api.ts';
import { TickBox } from '../parts/tick-box.tsx';
import { setLook } from '../store/actions.ts';
import type { See } from '../store/colours.ts';
import { usePart } from '../store/state.ts';
import { CardMeasure } from './card-measure.tsx';

const SEES: readonly { readonly value: See; readonly label: string }[] = [
  { value: 'fabrics', label: 'in its fabrics' },
  { value: 'values', label: 'light and dark alone' },
  { value: 'deutan', label: 'by eyes weak in green' },
  { value: 'protan', label: 'by eyes weak in red' },
  { value: 'tritan', label: 'by eyes weak in blue' },
];

export function WaysOfLooking({ work }: { readonly work: Work }) {
  const look = usePart((s) => s.look);
  const id = useId();
  return (
    <fieldset class="looking">
      <legend class="visually-hidden">Ways of looking at the block</legend>
      <label class="inline" for={id}>
        <span class="visually-hidden">Colours</span>
        <select id={id} value={look.see} onChange={(e) => setLook({ see: e.currentTarget.value as See })}>
          {SEES.map((s) => (
            <option key={s.value} value={s.value}>
              {s.label}
            </option>
          ))}
        </select>
      </label>
      <TickBox checked={look.seams} onTick={(seams) => setLook({ seams })}>
        seams
      </TickBox>
      <TickBox checked={look.numbers} onTick={(numbers) => setLook({ numbers })}>
        numbers
      </TickBox>
      <TickBox checked={look.trueSize} onTick={(trueSize) => setLook({ trueSize })}>
        finished size
      </TickBox>
      {Object.keys(work.shown).length > 0 && (
        <TickBox checked={look.cloth} onTick={(cloth) => setLook({ cloth })}>
          in my fabrics
        </TickBox>
      )}
      {look.trueSize && <CardMeasure />}
    </fieldset>
  );
}
