// The template sheets as they will be printed; one of them large.
import { useEffect, useRef, useState } from 'preact/hooks';
import type { SheetLine, Work } from '../../api.ts';
import { useFetched } from '../store/fetched.ts';
import { at, server } from '../store/server.ts';
import { usePart } from '../store/state.ts';

const title = (s: SheetLine): string =>
  `Sheet ${s.number}: ${s.sections.length === 1 ? 'section' : 'sections'} ${s.sections.join(', ')}`;

export function SheetPictures({ work }: { readonly work: Work }) {
  const reachable = usePart((s) => s.reachable);
  const list = useFetched(`${work.id} ${work.revision} ${reachable}`, work.block !== undefined, () =>
    server.sheets(work.id),
  );
  const [large, setLarge] = useState<number | undefined>();
  const dialog = useRef<HTMLDialogElement>(null);
  useEffect(() => {
    if (large !== undefined) dialog.current?.showModal();
  }, [large]);
  const sheets = list.value ?? [];
  const shown = sheets.find((s) => s.number === large);
  return (
    <section class="pane sheets" aria-labelledby="sheets-title">
      <h2 id="sheets-title">Template sheets</h2>
      <p role="status" class="hint">
        {list.fault ??
          (list.value === undefined || list.old
            ? 'Laying the templates on paper …'
            : `${sheets.length} ${sheets.length === 1 ? 'sheet' : 'sheets'}, mirrored as they must be: you sew on the printed side.`)}
      </p>
      <ul class="sheet-list">
        {sheets.map((s) => (
          <li key={s.number}>
            <button type="button" onClick={() => setLarge(s.number)}>
              <img src={at.sheet(work.id, s.number, work.revision)} alt="" loading="lazy" />
              <span>{title(s)}</span>
            </button>
          </li>
        ))}
      </ul>
      <dialog
        ref={dialog}
        class="sheet-dialog"
        aria-label={shown ? title(shown) : 'Sheet'}
        onClose={() => setLarge(undefined)}
      >
        {shown && (
          <>
            <div class="button-row">
              <button type="button" disabled={shown === sheets[0]} onClick={() => setLarge(shown.number - 1)}>
                Previous sheet
              </button>
              <button type="button" disabled={shown === sheets.at(-1)} onClick={() => setLarge(shown.number + 1)}>
                Next sheet
              </button>
              <button type="button" onClick={() => dialog.current?.close()}>
                Close
              </button>
            </div>
            <img src={at.sheet(work.id, shown.number, work.revision)} alt={title(shown)} />
          </>
        )}
      </dialog>
    </section>
  );
}
