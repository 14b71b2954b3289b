// The comparison on one sheet: shades across, pieces down, under each block what it takes. As a drawing, and as a page that
// stands alone.
import { type Drawing, type Item, placeItems, rectangle, text } from '../drawing/drawing.ts';
import { wrapText } from '../drawing/fonts.ts';
import { escapeXml, writeSvg } from '../drawing/svg.ts';
import { facePicture, sizeWithin } from '../packet/block-picture.ts';
import { oneLine } from '../packet/flow.ts';
import type { Settings } from '../settings/settings.ts';
import { formatLength, type Mm } from '../units.ts';
import type { ComparedCell, Comparison } from './compare-picture.ts';

type Look = Pick<Settings, 'name' | 'level' | 'units'>;

/** mm */
const CELL = 62;
const GAP = 7;
const EDGE = 10;
const LINE = 3.7;
const TEXT = 7.5;
const SEAM = { width: 0.08, colour: '#777777' };
const FRAME = '#1565c0';

/** What stands under a block. */
export function saysOf(cell: ComparedCell, { level, units }: Look): string[] {
  const { work, misplaced, block } = cell;
  return [
    `${work.pieces} pieces in ${work.sections} ${work.sections === 1 ? 'section' : 'sections'}, ${block.fabrics.length} fabrics`,
    `about ${work.hours[level]} hours (${level}), ${work.points} points to match`,
    `narrowest piece ${formatLength(work.narrowest as Mm, units)}; ${(misplaced * 100).toFixed(1)} % in another fabric`,
    cell.buy,
  ];
}

const reason = ({ recommended }: Comparison): string => `The framed one is recommended: ${recommended.because}.`;

export function drawComparison(comparison: Comparison, look: Look): Drawing {
  const { cells, shades, pieces, recommended } = comparison;
  const columns = shades.length;
  const width = 2 * EDGE + 14 + columns * CELL + (columns - 1) * GAP;
  const items: Item[] = [text('text', [EDGE, EDGE + 6], look.name, 16, { font: 'bold' })];
  let y = EDGE + 11;
  for (const line of wrapText(reason(comparison), 9.5, 'regular', width - 2 * EDGE)) {
    items.push(text('text', [EDGE, y], line, 9.5));
    y += 4.6;
  }
  y += 3;
  const left = (column: number): number => EDGE + 14 + column * (CELL + GAP);
  shades.forEach((n, c) => {
    items.push(text('text', [left(c) + CELL / 2, y], `${n} shades`, 10, { font: 'bold', align: 'middle' }));
  });
  y += 4;
  cells.forEach((row, r) => {
    const face = sizeWithin(row[0]!.block.size, CELL, CELL);
    const lines = row.map((cell) => saysOf(cell, look).flatMap((s) => wrapText(s, TEXT, 'regular', CELL)));
    const under = Math.max(...lines.map((l) => l.length)) * LINE;
    items.push(
      text('text', [EDGE, y + 5], `${pieces[r]}`, 12, { font: 'bold' }),
      text('text', [EDGE, y + 9], 'pieces', 7.5),
    );
    row.forEach((cell, c) => {
      const x = left(c);
      items.push(
        ...placeItems(facePicture(cell.block, face.scale, SEAM), { turn: 0, dx: x + (CELL - face.width) / 2, dy: y }),
      );
      lines[c]!.forEach((line, i) => {
        items.push(text('text', [x, y + face.height + 4 + i * LINE], oneLine(line, TEXT, CELL), TEXT));
      });
      if (r === recommended.row && c === recommended.column)
        items.push(
          rectangle('box', x - 2.5, y - 2.5, CELL + 5, face.height + under + 7.5, {
            stroke: { width: 1, colour: FRAME },
          }),
        );
    });
    y += face.height + under + 3 + GAP;
  });
  return { width, height: y + EDGE - GAP, title: `${look.name}: comparison`, items };
}

/** A page of its own: nothing is loaded from elsewhere. */
export function comparisonPage(comparison: Comparison, look: Look): string {
  const { cells, shades, pieces, recommended } = comparison;
  const cell = (it: ComparedCell, r: number, c: number): string => {
    const chosen = r === recommended.row && c === recommended.column;
    const face = sizeWithin(it.block.size, CELL, CELL);
    const svg = writeSvg({
      ...{ width: face.width, height: face.height },
      title: `${it.shades} shades, ${it.pieces} pieces`,
      items: facePicture(it.block, face.scale, SEAM),
    }).replace(/^<\?xml[^>]*>\s*/, '');
    const says = saysOf(it, look).map((s) => `<li>${escapeXml(s)}</li>`);
    return `<td${chosen ? ' class="chosen"' : ''}>${svg}<ul>${chosen ? '<li><strong>recommended</strong></li>' : ''}${says.join('')}</ul></td>`;
  };
  return `<!doctype html>
<html lang="en"><meta charset="utf-8"><meta name="viewport" content="width=device-width">
<title>${escapeXml(look.name)}: comparison</title>
<style>
body { font: 15px/1.45 system-ui, sans-serif; margin: 2rem; color: #222; background: #fff }
table { border-collapse: separate; border-spacing: 1rem }
th { text-align: left; vertical-align: top } thead th { text-align: center }
td { vertical-align: top; padding: .4rem; border: 3px solid transparent; min-width: 13rem }
td svg { width: 100%; height: auto; display: block }
td.chosen { border-color: ${FRAME} }
ul { list-style: none; margin: .5rem 0 0; padding: 0; font-size: .85rem }
</style>
<h1>${escapeXml(look.name)}</h1>
<p>${escapeXml(reason(comparison))}</p>
<table><thead><tr><td></td>${shades.map((n) => `<th scope="col">${n} shades</th>`).join('')}</tr></thead>
<tbody>
${cells.map((row, r) => `<tr><th scope="row">${pieces[r]} pieces</th>${row.map((it, c) => cell(it, r, c)).join('')}</tr>`).join('\n')}
</tbody></table>
</html>
`;
}
