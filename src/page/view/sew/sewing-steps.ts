// The block as a list of steps: every piece of every section in order, then every join. Each step has a name that stays the same
// as long as what is sewn in it does, so that its tick stays too.
import type { Block } from '../../../block.ts';
import { distance } from '../../../geometry/polygon.ts';
import { formatLength, type System } from '../../../units.ts';
import type { BlockSection } from '../store/facts.ts';

export type SewingStep =
  | { readonly kind: 'piece'; readonly key: string; readonly section: BlockSection; readonly index: number }
  | { readonly kind: 'trim'; readonly key: string; readonly section: BlockSection }
  | { readonly kind: 'join'; readonly key: string; readonly join: Block['joins'][number] };

/** A short mark of what a step sews: another shape or another fabric gives another one. */
function mark(text: string): string {
  let h = 5381;
  for (let i = 0; i < text.length; i++) h = (Math.imul(h, 33) ^ text.charCodeAt(i)) >>> 0;
  return h.toString(36);
}

export function sewingSteps(block: Block): readonly SewingStep[] {
  const pieces = block.sections.flatMap((section): SewingStep[] => [
    ...section.pieces.map(
      (p, index): SewingStep => ({
        kind: 'piece',
        key: mark(`${section.id}${p.number} ${p.fabric} ${p.outline.join()}`),
        section,
        index,
      }),
    ),
    { kind: 'trim', key: mark(`trim ${section.id} ${section.outline.join()}`), section },
  ]);
  const joins = block.joins.map(
    (join): SewingStep => ({
      kind: 'join',
      key: mark(`join ${join.number} ${join.seam.join()} ${join.left} ${join.right}`),
      join,
    }),
  );
  return [...pieces, ...joins];
}

export const stepTitle = (s: SewingStep): string =>
  s.kind === 'piece'
    ? `${s.section.id}${s.section.pieces[s.index]!.number}`
    : s.kind === 'trim'
      ? `Trim section ${s.section.id}`
      : `Join ${s.join.number}`;

const list = (ids: readonly string[]): string =>
  ids.length > 1 ? `${ids.slice(0, -1).join(', ')} and ${ids.at(-1)}` : ids[0]!;

/** What to do in a step, a sentence a line. `patch`: its size as it was cut. */
export function stepWords(block: Block, s: SewingStep, units: System, patch: string | undefined): readonly string[] {
  // a number and its unit stay on one line
  return wordsOf(block, s, units, patch).map((w) => w.replace(/(\d) (in|cm|mm)\b/g, '$1\u00a0$2'));
}

function wordsOf(block: Block, s: SewingStep, units: System, patch: string | undefined): readonly string[] {
  const quarter = units === 'inch' ? '1/4 in' : '6 mm';
  if (s.kind === 'trim') {
    return s.section.pieces.length === 1
      ? [`Section ${s.section.id} is one piece: cut it to its paper, on the dashed cut line.`]
      : ['Press. Trim paper and fabric together on the dashed cut line.', 'Leave the paper in.'];
  }
  if (s.kind === 'join') {
    const length = formatLength(distance(s.join.seam[0], s.join.seam[1]), units);
    return [
      `${list(s.join.left)} to ${list(s.join.right)}, ${length}.`,
      'Match crosses, ticks and double ticks.',
      'Remove the paper from this seam allowance only. Press the seam open.',
    ];
  }
  const piece = s.section.pieces[s.index]!;
  const fabric = block.fabrics.find((f) => f.id === piece.fabric)!;
  const cloth = `${fabric.name} (${fabric.code})${patch ? `, patch ${patch}` : ''}`;
  if (!piece.seam)
    return [
      `${cloth}.`,
      'Lay it right side up on the unprinted side of the paper, covering the piece and the seam allowance around it.',
    ];
  const length = formatLength(distance(piece.seam[0], piece.seam[1]), units);
  return [
    `${cloth}.`,
    `Right sides together, its edge ${quarter} past the line. Sew ${length}, from ${quarter} before the line to ${quarter} past it.`,
    s.index + 1 < s.section.pieces.length
      ? `Open, press dry. Fold the paper back on the next line, trim to ${quarter}.`
      : 'Open, press dry.',
  ];
}
