// The block in numbers: how true to the picture it is, in words, and how much work.
import { formatLength, type System } from '../../../units.ts';
import type { Summary, Work } from '../../api.ts';
import { usePart } from '../store/state.ts';
import { likenessOf, lostOf } from './likeness.ts';

export function BlockFacts({ work }: { readonly work: Work }) {
  const units = usePart((s) => s.wanted.units) ?? work.settings.units;
  // the gravest is said beside the block itself
  const notes = work.notes.slice(1);
  if (!work.summary && notes.length === 0) return null;
  return (
    <section class="facts-pane" aria-label="The block in numbers">
      {work.summary?.misplaced !== undefined && work.stage !== 'changed' && (
        <LikenessBar misplaced={work.summary.misplaced} notes={work.notes} />
      )}
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

function LikenessBar({ misplaced, notes }: { readonly misplaced: number; readonly notes: readonly string[] }) {
  const { word, share } = likenessOf(misplaced);
  const lost = lostOf(notes);
  return (
    <div class="likeness">
      <h3>Likeness: {word}</h3>
      <meter min={0} max={1} value={share} aria-label="Likeness">
        {word}
      </meter>
      <p class="hint">
        {lost ? `Not shown: ${lost}.` : 'Nothing of note is lost.'}
        {word === 'Loose' || word === 'Fair' ? ' More pieces, or a plain background, bring it closer.' : ''}
      </p>
    </div>
  );
}

function BlockNumbers({ summary, units }: { readonly summary: Summary; readonly units: System }) {
  const facts: readonly (readonly [string, string])[] = [
    ['Pieces', String(summary.pieces)],
    ['Sections', String(summary.sections)],
    ['Section seams', String(summary.joins)],
    ['Points to match', String(summary.points)],
    ['Narrowest piece', formatLength(summary.narrowest, units)],
    ['Sewing time', sayHours(summary.hours)],
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
