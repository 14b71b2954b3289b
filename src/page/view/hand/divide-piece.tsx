// Divides a piece along a line: drawn on the block, or from one numbered point of its edge to another.
import { useState } from 'preact/hooks';
import type { Block } from '../../../block.ts';
import { change } from '../store/actions.ts';
import { factsOf } from '../store/facts.ts';
import { put, usePart } from '../store/state.ts';
import { pointsOn } from './points-on.ts';

export function DividePiece({ block }: { readonly block: Block }) {
  const tool = usePart((s) => s.tool);
  const line = usePart((s) => s.line);
  const name = usePart((s) => s.picked.at(-1));
  const [fabric, setFabric] = useState('');
  const [ends, setEnds] = useState<readonly [number, number]>([0, 0]);
  const on = tool === 'divide';
  const piece = factsOf(block).find((f) => f.name === name);
  const points = piece ? pointsOn(piece.piece.outline) : [];
  const choose = (a: number, b: number): void => {
    setEnds([a, b]);
    const [from, to] = [points.find((p) => p.number === a), points.find((p) => p.number === b)];
    put({ line: from && to && a !== b ? [from.at, to.at] : undefined });
  };
  const divide = async (): Promise<void> => {
    if (!piece || !line) return;
    const done = await change({ kind: 'divide', piece: piece.name, line, ...(fabric && { fabric }) });
    if (done) {
      put({ line: undefined });
      setEnds([0, 0]);
    }
  };
  return (
    <div class="change">
      {on && (
        <div class="change-body">
          <p>
            {piece
              ? `Draw a line across ${piece.name} on the block, or choose two of its numbered points.`
              : 'Tap the piece on the block first.'}
          </p>
          {piece && (
            <>
              <div class="field-row">
                {(['From point', 'To point'] as const).map((label, k) => (
                  <label class="field" key={label}>
                    <span>{label}</span>
                    <select
                      value={ends[k]}
                      onChange={(e) => {
                        const v = Number(e.currentTarget.value);
                        choose(k === 0 ? v : ends[0], k === 1 ? v : ends[1]);
                      }}
                    >
                      <option value={0}>–</option>
                      {points.map((p) => (
                        <option key={p.number} value={p.number}>
                          {p.number}
                        </option>
                      ))}
                    </select>
                  </label>
                ))}
                <label class="field">
                  <span>The new part in</span>
                  <select value={fabric} onChange={(e) => setFabric(e.currentTarget.value)}>
                    <option value="">the same fabric</option>
                    {block.fabrics.map((f) => (
                      <option key={f.id} value={f.id}>
                        {f.name}
                      </option>
                    ))}
                  </select>
                </label>
              </div>
              <button type="button" class="main-button" disabled={!line} onClick={() => void divide()}>
                Divide {piece.name} along the line
              </button>
            </>
          )}
        </div>
      )}
    </div>
  );
}
