// The usual cautions, once.
import { useState } from 'preact/hooks';
import { recall, remember } from '../store/browser-memory.ts';

export function Cautions() {
  const [read, setRead] = useState(recall('cautions', false));
  if (read) return null;
  return (
    <aside class="cautions" aria-label="Before you start">
      <p>
        <strong>The safety rules of your machine, your iron and your workshop come first.</strong> Switch the machine
        off before you thread it or change the needle. Keep hair, sleeves and jewelry away from it, and protect your
        eyes: a needle can break. Cut away from yourself, cover the blade after each cut, and put old blades in a closed
        tin. Irons and lamps behind paper get hot; switch them off when you leave. Count your pins. Children sew with an
        adult; keep pets out of the room.
      </p>
      <button
        type="button"
        onClick={() => {
          remember('cautions', true);
          setRead(true);
        }}
      >
        I’ve read these
      </button>
    </aside>
  );
}
