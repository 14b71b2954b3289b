// Section letters and piece numbers on the block, as large as each piece bears.
import { inkOn, type See, shownColour } from '../store/colours.ts';
import type { PieceFacts } from '../store/facts.ts';

const LEAST = 2.4;
const MOST = 6.5;

export function PieceNumbers({ facts, see }: { readonly facts: readonly PieceFacts[]; readonly see: See }) {
  return (
    <>
      {facts.map((f) => (
        <text
          key={f.name}
          class="piece-number"
          x={f.middle[0]}
          y={f.middle[1]}
          font-size={Math.max(LEAST, Math.min(MOST, f.width * 0.42))}
          fill={inkOn(shownColour(f.fabric.colour, see))}
        >
          {f.name}
        </text>
      ))}
    </>
  );
}
