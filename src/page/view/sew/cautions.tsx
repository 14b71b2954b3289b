// The usual cautions, once.
import { useState } from 'preact/hooks';
import { recall, remember } from '../store/browser-memory.ts';

export function Cautions() {
  const [read, setRead] = useState(recall('cautions', false));
  if (read) return null;
  return (
    <aside class="cautions" aria-label="Before you start">
      <p>
        <strong>The safety rules of your machine, your iron and your workshop come first.</strong> Close the rotary
        cutter each time you set it down and cut away from yourself. The iron burns: dry heat, briefly, and off when you
        leave the table. Count pins out and count them back; fingers stay clear of the needle. Children sew only with an
        adult beside them.
      </p>
      <button
        type="button"
        onClick={() => {
          remember('cautions', true);
          setRead(true);
        }}
      >
        I will keep to them
      </button>
    </aside>
  );
}
