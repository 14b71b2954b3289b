// Moves or swings a seam: by its handles on the block, or by these buttons.
import { useState } from 'preact/hooks';
import type { Block } from '../../../block.ts';
import { formatLength } from '../../../units.ts';
import type { Work } from '../../api.ts';
import { change } from '../store/actions.ts';
import { factsOf } from '../store/facts.ts';
import { put, usePart } from '../store/state.ts';
import { seamsAround } from './seam-of.ts';

const STEPS = [25.4 / 16, 25.4 / 8, 25.4 / 4];

export function MoveSeam({ block, work }: { readonly block: Block; readonly work: Work }) {
  const on = usePart((s) => s.tool === 'move');
  const picked = usePart((s) => s.picked.at(-1));
  const seam = usePart((s) => s.seam);
  const [step, setStep] = useState(STEPS[0]!);
  const own = factsOf(block).find((f) => f.name === picked);
  // those that bound the picked piece, its own first; all of them where none is picked
  const { pieces, joins } = seamsAround(block, own);
  const join = seam !== undefined && /^\d/.test(seam);
  const grows = join ? block.joins.find((j) => String(j.number) === seam)?.left.join(', ') : seam;
  return (
    <div class="change">
      {on && (
        <div class="change-body">
          <div class="field-row">
            <label class="field">
              <span>Which seam</span>
              <select value={seam ?? ''} onChange={(e) => put({ seam: e.currentTarget.value || undefined })}>
                <option value="">press one on the block</option>
                <optgroup label="Seams of pieces">
                  {pieces.map((f) => (
                    <option key={f.name} value={f.name}>
                      {f.name}, {f.fabric.name}
                    </option>
                  ))}
                </optgroup>
                <optgroup label="Section seams">
                  {joins.map((j) => (
                    <option key={j.number} value={String(j.number)}>
                      Join {j.number}: {j.left.join('')} to {j.right.join('')}
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
          {seam !== undefined && (
            <div class="button-row">
              <button type="button" onClick={() => void change({ kind: 'move', seam, by: step })}>
                {grows} larger
              </button>
              <button type="button" onClick={() => void change({ kind: 'move', seam, by: -step })}>
                {grows} smaller
              </button>
              <button type="button" onClick={() => void change({ kind: 'swing', seam, degrees: -2 })}>
                Tilt left
              </button>
              <button type="button" onClick={() => void change({ kind: 'swing', seam, degrees: 2 })}>
                Tilt right
              </button>
            </div>
          )}
          <p class="hint">Or drag the seam on the block: by its middle to move it, by an end to tilt it.</p>
        </div>
      )}
    </div>
  );
}
