// Moves or swings a seam: by its handles on the block, or by these buttons.
import { useState } from 'preact/hooks';
import type { Block } from '../../../block.ts';
import { formatLength } from '../../../units.ts';
import type { Work } from '../../api.ts';
import { change } from '../store/actions.ts';
import { factsOf } from '../store/facts.ts';
import { put, usePart } from '../store/state.ts';

const STEPS = [25.4 / 16, 25.4 / 8, 25.4 / 4];

export function MoveSeam({ block, work }: { readonly block: Block; readonly work: Work }) {
  const tool = usePart((s) => s.tool);
  const picked = usePart((s) => s.picked.at(-1));
  const seam = usePart((s) => s.seam);
  const [step, setStep] = useState(STEPS[0]!);
  const on = tool === 'move';
  const withSeams = factsOf(block).filter((f) => f.piece.seam);
  const open = (): void => {
    const own = withSeams.some((f) => f.name === picked) ? picked : withSeams[0]?.name;
    put(on ? { tool: 'pick', seam: undefined } : { tool: 'move', seam: own, line: undefined });
  };
  const join = seam !== undefined && /^\d/.test(seam);
  const grows = join ? block.joins.find((j) => String(j.number) === seam)?.left.join(', ') : seam;
  return (
    <div class="change">
      <button type="button" aria-pressed={on} onClick={open}>
        Move a seam
      </button>
      {on && seam !== undefined && (
        <div class="change-body">
          <div class="field-row">
            <label class="field">
              <span>Which seam</span>
              <select value={seam} onChange={(e) => put({ seam: e.currentTarget.value })}>
                <optgroup label="Seams of pieces">
                  {withSeams.map((f) => (
                    <option key={f.name} value={f.name}>
                      {f.name}
                    </option>
                  ))}
                </optgroup>
                <optgroup label="Joins">
                  {block.joins.map((j) => (
                    <option key={j.number} value={String(j.number)}>
                      join {j.number}
                    </option>
                  ))}
                </optgroup>
              </select>
            </label>
            <label class="field">
              <span>By</span>
              <select value={step} onChange={(e) => setStep(Number(e.currentTarget.value))}>
                {STEPS.map((s) => (
                  <option key={s} value={s}>
                    {formatLength(s, work.settings.units)}
                  </option>
                ))}
              </select>
            </label>
          </div>
          <div class="button-row">
            <button type="button" onClick={() => void change({ kind: 'move', seam, by: step })}>
              {grows} larger
            </button>
            <button type="button" onClick={() => void change({ kind: 'move', seam, by: -step })}>
              {grows} smaller
            </button>
            <button type="button" onClick={() => void change({ kind: 'swing', seam, degrees: -2 })}>
              Swing to the left
            </button>
            <button type="button" onClick={() => void change({ kind: 'swing', seam, degrees: 2 })}>
              Swing to the right
            </button>
          </div>
          <p class="hint">Or drag the seam on the block by its middle; by its end to swing it.</p>
        </div>
      )}
    </div>
  );
}
