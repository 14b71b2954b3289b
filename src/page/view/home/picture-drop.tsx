// Where a picture or a block file comes in: dropped, pasted or chosen.
import { useEffect, useRef, useState } from 'preact/hooks';
import { beginAll } from '../store/actions.ts';
import { usePart } from '../store/state.ts';

const KINDS = 'image/*,.heic,.heif,.tif,.tiff,.svg,.avif,.json';

export function PictureDrop() {
  const chooser = useRef<HTMLInputElement>(null);
  const [over, setOver] = useState(false);
  const waiting = usePart((s) => s.waiting);
  const opening = waiting?.startsWith('opening ') ? waiting : undefined;
  useEffect(() => {
    const drop = (): void => setOver(false);
    const drag = (e: DragEvent): void => {
      if (e.dataTransfer?.types.includes('Files')) setOver(true);
    };
    const leave = (e: DragEvent): void => {
      if (!e.relatedTarget) setOver(false);
    };
    addEventListener('drop', drop);
    addEventListener('dragover', drag);
    addEventListener('dragleave', leave);
    return () => {
      removeEventListener('drop', drop);
      removeEventListener('dragover', drag);
      removeEventListener('dragleave', leave);
    };
  }, []);
  return (
    <div class={over ? 'drop over' : 'drop'}>
      <button type="button" class="main-button" onClick={() => chooser.current?.click()}>
        Choose a picture
      </button>
      <p>
        A photo from a phone or camera, a drawing or flat art. You can also drop it anywhere on this page, or paste it;
        several at once for a series. A block file that was saved here opens again.
      </p>
      <input
        ref={chooser}
        class="visually-hidden"
        type="file"
        multiple
        tabIndex={-1}
        accept={KINDS}
        aria-label="Picture or block file"
        onChange={(e) => {
          const files = [...(e.currentTarget.files ?? [])];
          e.currentTarget.value = '';
          void beginAll(files);
        }}
      />
      <p role="status" class="drop-status">
        {opening ? `${opening[0]!.toUpperCase()}${opening.slice(1)} …` : ''}
      </p>
    </div>
  );
}
