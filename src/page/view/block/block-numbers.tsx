// The block in numbers: how much work it is, and how true to the picture.

import { formatLength, type System } from '../../../units.ts';
import type { Summary } from '../../api.ts';

export function BlockNumbers({ summary, units }: { readonly summary: Summary; readonly units: System }) {
  const facts: readonly (readonly [string, string])[] = [
    ['Pieces', String(summary.pieces)],
    ['Sections', String(summary.sections)],
    ['Joins', String(summary.joins)],
    ['Points to match', String(summary.points)],
    ['Narrowest piece', formatLength(summary.narrowest, units)],
    ['About', sayHours(summary.hours)],
    ...(summary.misplaced === undefined
      ? []
      : [['Unlike the picture', `${(summary.misplaced * 100).toFixed(1)} %`] as const]),
    ['To buy', summary.buy],
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
