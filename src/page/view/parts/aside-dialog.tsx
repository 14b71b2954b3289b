// Before another fit sets changes by hand aside: nothing is lost without a word.
import { useEffect, useRef } from 'preact/hooks';
import { decide } from '../store/actions.ts';
import { usePart } from '../store/state.ts';

export function AsideDialog() {
  const count = usePart((s) => s.setsAside);
  const dialog = useRef<HTMLDialogElement>(null);
  const chosen = useRef(false);
  useEffect(() => {
    chosen.current = false;
    if (count) dialog.current?.showModal();
  }, [count]);
  if (!count) return null;
  const choose = (what: 'copy' | 'refit' | 'cancel'): void => {
    chosen.current = true;
    dialog.current?.close();
    void decide(what);
  };
  const changes = count === 1 ? 'change' : `${count} changes`;
  return (
    <dialog
      ref={dialog}
      class="ask-dialog"
      aria-labelledby="aside-title"
      onClose={() => {
        if (!chosen.current) void decide('cancel');
      }}
    >
      <h2 id="aside-title">Your {changes} would be set aside</h2>
      <p>
        This setting fits the pieces again. Fabrics that you gave to pieces are carried over where the new pieces are in
        the same place; moved and divided pieces are not.
      </p>
      <div class="button-row">
        <button type="button" class="main-button" onClick={() => choose('copy')}>
          Keep them in a copy, then refit
        </button>
        <button type="button" onClick={() => choose('refit')}>
          Refit
        </button>
        <button type="button" onClick={() => choose('cancel')}>
          Cancel
        </button>
      </div>
    </dialog>
  );
}
