// The block in numbers: how much work it is, and how true to the picture.

import { formatLength, type System } from '../../../units.ts';
import type { Summary, Work } from '../../api.ts';
import { usePart } from '../store/state.ts';

export function BlockFacts({ work }: { readonly work: Work }) {
  const units = usePart((s) => s.wanted.units) ?? work.settings.units;
  // the gravest is said beside the block itself
  const notes = work.notes.slice(1);
  if (!work.summary && notes.length === 0) return null;
  return (
    <section class="pane facts-pane" aria-label="The block in numbers">
      {work.summary && <BlockNumbers summary={work.summary} units={units} />}
      {notes.length > 0 && (
        <div class="notes">
          <h3>Also note</h3>
          <ul>
            {notes.map((n) => (
              <li key={n}>{n}</li>
            ))}
          </ul>
        </div>
      )}
    </section>
  );
}

function BlockNumbers({ summary, units }: { readonly summary: Summary; readonly units: System }) {
  const facts: readonly (readonly [string, string])[] = [
    ['Pieces', String(summary.pieces)],
    ['Sections', String(summary.sections)],
    ['Joins', String(summary.joins)],
    ['Points to match', String(summary.points)],
    ['Narrowest piece', formatLength(summary.narrowest, units)],
    ['About', sayHours(summary.hours)],
    ...(summary.misplaced === undefined
      ? []
      : [['Not as in the picture', `${(summary.misplaced * 100).toFixed(1)} %`] as const]),
    ...(summary.buy ? [['To buy', summary.buy] as const] : []),
  ];
  return (
    <dl class="numbers">
      {facts.map(([name, value]) => (
        <div key={name}>
          <dt>{name}</dt>
          <dd>{value}</dd>
        </div>
      ))}
    </dl>
  );
}

export const sayHours = (hours: number): string =>
  hours < 1 ? `${Math.max(5, Math.round(hours * 12) * 5)} minutes` : `${Math.round(hours * 2) / 2} hours`;
