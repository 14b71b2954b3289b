// Two sections sewn on one paper, or one parted into two.
import { useState } from 'preact/hooks';
import type { Block } from '../../../block.ts';
import { change } from '../store/actions.ts';

export function SectionChanges({ block }: { readonly block: Block }) {
  const ids = block.sections.map((s) => s.id);
  const [first, setFirst] = useState(ids[0] ?? '');
  const [second, setSecond] = useState(ids[1] ?? '');
  const [section, setSection] = useState(ids[0] ?? '');
  const [piece, setPiece] = useState('');
  const chosen = block.sections.find((s) => s.id === section) ?? block.sections[0]!;
  const known = (id: string): string => (ids.includes(id) ? id : (ids[0] ?? ''));
  const list = (label: string, value: string, onPick: (v: string) => void) => (
    <label class="field">
      <span>{label}</span>
      <select value={value} onChange={(e) => onPick(e.currentTarget.value)}>
        {ids.map((id) => (
          <option key={id} value={id}>
            {id}
          </option>
        ))}
      </select>
    </label>
  );
  return (
    <>
      <div class="field-row">
        {list('Section', known(first), setFirst)}
        {list('and section', known(second), setSecond)}
        <button
          type="button"
          disabled={known(first) === known(second)}
          onClick={() => void change({ kind: 'unite', first: known(first), second: known(second) })}
        >
          Sew on one paper
        </button>
      </div>
      <div class="field-row">
        {list('Section', chosen.id, (id) => {
          setSection(id);
          setPiece('');
        })}
        <label class="field">
          <span>parted at</span>
          <select value={piece} onChange={(e) => setPiece(e.currentTarget.value)}>
            <option value="">the best place</option>
            {chosen.pieces.slice(1).map((p) => (
              <option key={p.number} value={`${chosen.id}${p.number}`}>
                the seam of {chosen.id}
                {p.number}
              </option>
            ))}
          </select>
        </label>
        <button
          type="button"
          disabled={chosen.pieces.length < 2}
          onClick={() => void change({ kind: 'part', section: chosen.id, ...(piece && { piece }) })}
        >
          Part into two papers
        </button>
      </div>
    </>
  );
}
