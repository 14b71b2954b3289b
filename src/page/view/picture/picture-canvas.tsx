// The picture with what is placed on it: the block's frame, the frame around the animal, eyes and nose, the focus spots.
import { useRef, useState } from 'preact/hooks';
import type { Box, Work } from '../../api.ts';
import { onto, partOf, WHOLE as UNZOOMED } from '../parts/zoom.ts';
import { useZoomGestures } from '../parts/zoom-gestures.ts';
import { set, settingsNow } from '../store/actions.ts';
import { at } from '../store/server.ts';
import { now, put, usePart } from '../store/state.ts';
import { insideBox, shapedBox, viewAround } from './crop-ratio.ts';
import { FaceHandles } from './face-handles.tsx';
import { handlesOf, type Part, placed, viewOfFace } from './face-now.ts';
import { FaceTools } from './face-tools.tsx';
import { FocusSpot } from './focus-spot.tsx';
import { PictureFrame } from './picture-frame.tsx';
import { PlacePart } from './place-part.tsx';
import { SheetRim, sheetOf } from './sheet-rim.tsx';
import { toCrop } from './what-is-shown.ts';

/** The block's shape in shares of the picture: width over height. */
export function cropRatio(size: readonly [number, number], picture: { width: number; height: number }): number {
  return (size[0] / size[1]) * (picture.height / picture.width);
}

const WHOLE: Box = [0, 0, 1, 1];
const percent = (v: number): string => `${Math.round(v * 100)} %`;
/** where a new eye or nose begins, shares of what is looked at */
const FIRST: Readonly<Record<Part, readonly [number, number]>> = { eye: [0.5, 0.4], nose: [0.5, 0.6] };

export function PictureCanvas({
  work,
  picture,
}: {
  readonly work: Work;
  readonly picture: NonNullable<Work['picture']>;
}) {
  const wanted = usePart((s) => s.wanted);
  const settings = settingsNow(work, wanted);
  const { choices } = work;
  const [posterised, setPosterised] = useState(false);
  const [placing, setPlacing] = useState<Part>();
  const zoom = usePart((s) => s.pictureZoom);
  const aspect = picture.width / picture.height;
  const ratio = cropRatio(settings.size, picture);
  const own = typeof settings.crop === 'string' ? undefined : settings.crop;
  const crop = shapedBox(own ?? choices?.crop ?? WHOLE, ratio);
  const turn = own ? 0 : (choices?.turn ?? 0);
  // what was found by itself is not drawn: it may be an ear, and then looks like a fault to be mended
  const spots = settings.focus === 'auto' ? [] : settings.focus;
  // what lies on a squared sheet has no place on the photo of it
  const sheet = sheetOf(work, settings);
  const photo = !sheet && (settings.kind === 'auto' ? choices?.kind : settings.kind) === 'photo';
  const handles = photo ? handlesOf(settings, choices?.figure) : [];
  // what is looked at from near stays where it is, whatever frame is found while a handle is dragged
  const base = useRef<Box>(WHOLE);
  if (zoom.by === 1) base.current = sheet ? WHOLE : viewAround(crop, turn, aspect);
  const near = zoom.by > 1;
  const view = partOf(base.current, zoom);
  const seen = near ? view : crop;
  const mat = useZoomGestures<HTMLDivElement>({
    get: () => now().pictureZoom,
    put: (pictureZoom) => put({ pictureZoom }),
    pans: (e) => now().pictureZoom.by > 1 && !(e.target as Element).closest('button'),
  });
  const shape = (aspect * view[2]) / view[3];
  const place = (part: Part, x: number, y: number): void => {
    const next = placed(handles, part, x, y);
    set(next);
    // two eyes are placed one after the other
    if (part === 'nose' || next.eyes?.length === 2) setPlacing(undefined);
    const name = `${part}-${(next.eyes ?? next.nose ?? []).length - 1}`;
    setTimeout(() => document.querySelector<HTMLElement>(`.place-part, [data-face="${name}"]`)?.focus());
  };
  return (
    <section class="picture-canvas" aria-label="Picture">
      <div class="picture-room">
        <div ref={mat} class="picture-mat" style={{ '--ratio': String(shape) }}>
          <div
            class={near ? 'picture-stage near' : 'picture-stage'}
            style={{
              ...{ left: `${(-100 * view[0]) / view[2]}%`, top: `${(-100 * view[1]) / view[3]}%` },
              ...{ width: `${100 / view[2]}%`, height: `${100 / view[3]}%` },
            }}
          >
            <img
              class="whole"
              src={at.picture(work.id)}
              alt={`What the block is made from: ${work.name}`}
              draggable={false}
            />
            {posterised && !sheet && (
              <img
                class="shades"
                src={at.shades(work.id, work.revision)}
                alt="Posterised to the fabrics of the block"
                draggable={false}
                style={{
                  left: `${crop[0] * 100}%`,
                  top: `${crop[1] * 100}%`,
                  width: `${crop[2] * 100}%`,
                  height: `${crop[3] * 100}%`,
                  transform: `rotate(${turn}deg) ${settings.turn ? 'scaleX(-1)' : ''}`,
                }}
              />
            )}
            {sheet ? (
              <SheetRim corners={sheet} />
            ) : (
              <PictureFrame
                box={crop}
                from={own ? crop : insideBox(crop)}
                turn={turn}
                what="the block’s frame"
                look="crop"
                ratio={ratio}
                onMove={(box) => set(toCrop(box, settings, choices?.figure))}
              />
            )}
            {settings.subject && (
              <PictureFrame
                box={settings.subject}
                what="the frame around the animal"
                look="subject"
                onMove={(box) => set({ subject: box })}
              />
            )}
            {!sheet &&
              spots.map((spot, i) => (
                <FocusSpot
                  key={i}
                  spot={spot}
                  number={i + 1}
                  crop={crop}
                  turn={turn}
                  aspect={aspect}
                  onMove={(moved) => set({ focus: spots.map((s, k) => (k === i ? moved : s)) })}
                />
              ))}
            {/* a guess goes when its part is placed */}
            <FaceHandles handles={handles.filter((h) => h.by !== 'guess' || h.part !== placing)} />
            {photo && placing && (
              <PlacePart
                part={placing}
                from={[seen[0] + FIRST[placing][0] * seen[2], seen[1] + FIRST[placing][1] * seen[3]]}
                onPlace={(x, y) => place(placing, x, y)}
                onCancel={() => setPlacing(undefined)}
              />
            )}
          </div>
        </div>
      </div>
      <div class="picture-foot">
        {photo && (
          <FaceTools
            {...{ handles, settings, placing }}
            sought={choices?.figure !== undefined}
            onPlacing={setPlacing}
            zoomed={near}
            onZoom={() =>
              put({
                pictureZoom: near ? UNZOOMED : onto(base.current, viewOfFace(handles, choices?.subject, aspect)),
              })
            }
          />
        )}
        {sheet ? (
          <p class="hint" role="status">
            The block shows the sheet inside the line, squared up. To draw a frame or spots on the picture, clear the
            box “Square up” first.
          </p>
        ) : (
          <>
            <p id="frame-keys" class={photo ? 'visually-hidden' : 'hint'}>
              The block shows what is inside the frame. Drag the frame or its corners, or use Tab and the arrow keys.
            </p>
            <p class="visually-hidden" role="status">
              The block shows {percent(crop[2])} of the width and {percent(crop[3])} of the height, {percent(crop[0])}{' '}
              from the left, {percent(crop[1])} from the top{turn ? `, tilted by ${Math.round(turn)} degrees` : ''}.
            </p>
          </>
        )}
        {work.block && !sheet && (
          <label class="tick">
            <input type="checkbox" checked={posterised} onChange={(e) => setPosterised(e.currentTarget.checked)} />
            <span>Show it in the block’s fabrics</span>
          </label>
        )}
      </div>
    </section>
  );
}
