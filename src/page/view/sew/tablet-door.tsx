// The tablet beside the machine: says what opening the page to the network at home means, opens it, shows the way as a code to scan,
// and shuts it again.
import { useRef } from 'preact/hooks';
import { encode } from 'uqr';
import { TickBox } from '../parts/tick-box.tsx';
import { attempt } from '../store/actions.ts';
import { server } from '../store/server.ts';
import { put, usePart } from '../store/state.ts';

export function TabletDoor({ work }: { readonly work: string }) {
  const here = usePart((s) => s.here);
  const dialog = useRef<HTMLDialogElement>(null);
  const more = useRef(false);
  if (!here || here.reads) return null;
  const { tablet } = here;
  const open = async (on: boolean): Promise<void> => {
    const next = await attempt(on ? 'opening the page for the tablet' : 'closing it', () =>
      server.tablet(on, more.current ? 'all' : 'sewing'),
    );
    if (next) put({ here: next });
  };
  const way = tablet && `${tablet.address}#/work/${encodeURIComponent(work)}/sew`;
  return (
    <>
      <button type="button" onClick={() => dialog.current?.showModal()}>
        {tablet ? 'Tablet: open' : 'Use on a tablet at home'}
      </button>
      <dialog ref={dialog} class="ask-dialog" aria-labelledby="tablet-title">
        <h2 id="tablet-title">Use on a tablet at home</h2>
        {way && tablet ? (
          <>
            <p>Scan this with the tablet, or type the address. Both must be in the same network.</p>
            <QrCode text={way} />
            <p class="tablet-address">{tablet.address}</p>
            {tablet.others.length > 0 && <p class="hint">If that does not open: {tablet.others.join(' or ')}</p>}
            <div class="button-row">
              <button type="button" class="main-button" onClick={() => dialog.current?.close()}>
                Done
              </button>
              <button type="button" onClick={() => void open(false)}>
                Close it to the tablet
              </button>
            </div>
          </>
        ) : (
          <>
            <p>
              Until now, only this computer can open your projects. This opens them to your network at home, for anyone
              who has the address with its key. They can see your blocks and tick what is sewn, and nothing else. What
              is sent is not encrypted: do this in a network you trust, not in a café or a hotel.
            </p>
            <p>Closing it, or stopping the program, makes the key useless. The next time there is a new one.</p>
            <TickBox checked={more.current} onTick={(on) => (more.current = on)}>
              The tablet may also change blocks
            </TickBox>
            <div class="button-row">
              <button type="button" class="main-button" onClick={() => void open(true)}>
                Open it for a tablet
              </button>
              <button type="button" onClick={() => dialog.current?.close()}>
                Cancel
              </button>
            </div>
          </>
        )}
      </dialog>
    </>
  );
}

function QrCode({ text }: { readonly text: string }) {
  const { data, size } = encode(text);
  const path = data.flatMap((row, y) => row.map((on, x) => (on ? `M${x} ${y}h1v1h-1z` : ''))).join('');
  return (
    <svg class="qr" viewBox={`0 0 ${size} ${size}`} role="img" aria-label="Code to scan with the tablet">
      <path d={path} shape-rendering="crispEdges" />
    </svg>
  );
}
