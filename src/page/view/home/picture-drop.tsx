// Where a picture or a block file comes in: dropped, pasted or chosen.
import { useEffect, useRef, useState } from 'preact/hooks';
import { beginAll } from '../store/actions.ts';
import { put, usePart } from '../store/state.ts';

const KINDS = 'image/*,.heic,.heif,.tif,.tiff,.svg,.avif,.json';

export function PictureDrop() {
  const chooser = useRef<HTMLInputElement>(null);
  const [over, setOver] = useState(false);
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
      <div class="drop-words">
        <button type="button" class="main-button" onClick={() => chooser.current?.click()}>
          Choose a picture
        </button>
        <p>
          A photo, a drawing or flat art. Drop it anywhere on this page, or paste it. Bring several at once for a
          series. A block file that you saved opens again.
        </p>
      </div>
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
      <Sample />
      <Bringing />
    </div>
  );
}

/** What the page does, as a picture: and the same picture to try it with. */
function Sample() {
  const begin = async (): Promise<void> => {
    const picture = await fetch('sample.jpg').then((a) => a.blob());
    await beginAll([new File([picture], 'sheep.jpg', { type: 'image/jpeg' })]);
  };
  return (
    <div class="sample">
      <div class="sample-pictures" aria-hidden="true">
        <img src="sample.jpg" alt="" />
        <span class="sample-arrow" />
        <img src="sample.svg" alt="" />
      </div>
      <button type="button" onClick={() => void begin()}>
        Try with this one
      </button>
    </div>
  );
}

/** Files on their way: all of them named at once, one bar, what is no picture said as soon as it is known. */
function Bringing() {
  const bringing = usePart((s) => s.bringing);
  const waiting = usePart((s) => s.waiting);
  const opening = waiting?.startsWith('opening ') ? waiting : undefined;
  if (!bringing || bringing.names.length < 2)
    return (
      <p role="status" class="drop-status">
        {opening ? `${opening[0]!.toUpperCase()}${opening.slice(1)} …` : ''}
      </p>
    );
  const { names, at, refused } = bringing;
  const done = at >= names.length;
  return (
    <div class="bringing">
      <p role="status" class="drop-status">
        {done
          ? `${names.length - refused.length} of ${names.length} pictures are here.`
          : `Opening ${at + 1} of ${names.length}: ${names[at]} …`}
      </p>
      <progress max={names.length} value={at} aria-label="Pictures opened" />
      <ol>
        {names.map((n, i) => {
          const fault = refused.find((r) => r.name === n);
          const state = fault ? 'refused' : i < at ? 'here' : i === at ? 'now' : 'next';
          return (
            <li key={`${n} ${i}`} class={state}>
              {n}
              {fault && <span class="fault" role="alert">{` ${fault.says}`}</span>}
            </li>
          );
        })}
      </ol>
      {done && (
        <button type="button" onClick={() => put({ bringing: undefined })}>
          OK
        </button>
      )}
    </div>
  );
}
