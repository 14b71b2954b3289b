// The picture with what is placed on it: the block's frame, the frame around the animal, the focus spots.
import { useState } from 'preact/hooks';
import type { Box, Work } from '../../api.ts';
import { set, settingsNow } from '../store/actions.ts';
import { at } from '../store/server.ts';
import { usePart } from '../store/state.ts';
import { shapedBox } from './crop-ratio.ts';
import { FocusSpot } from './focus-spot.tsx';
import { PictureFrame } from './picture-frame.tsx';
import { SheetRim, sheetOf } from './sheet-rim.tsx';

/** The block's shape in shares of the picture: width over height. */
export function cropRatio(size: readonly [number, number], picture: { width: number; height: number }): number {
  return (size[0] / size[1]) * (picture.height / picture.width);
}

const percent = (v: number): string => `${Math.round(v * 100)} %`;

export function PicturePane({
  work,
  picture,
}: {
  readonly work: Work;
  readonly picture: NonNullable<Work['picture']>;
}) {
  const wanted = usePart((s) => s.wanted);
  const settings = settingsNow(work, wanted);
  const [posterised, setPosterised] = useState(false);
  const ratio = cropRatio(settings.size, picture);
  const whole: Box = [0, 0, 1, 1];
  const own = typeof settings.crop === 'string' ? undefined : settings.crop;
  const crop = shapedBox(own ?? work.choices?.crop ?? whole, ratio);
  // what was found by itself is not drawn: it may be an ear, and then looks like a fault to be mended
  const spots = settings.focus === 'auto' ? [] : settings.focus;
  // what lies on a squared sheet has no place on the photo of it
  const sheet = sheetOf(work, settings);
  return (
    <section class="pane picture-pane" aria-labelledby="picture-title">
      <div class="pane-head">
        <h2 id="picture-title">Picture</h2>
        {work.block && !sheet && (
          <label class="tick">
            <input type="checkbox" checked={posterised} onChange={(e) => setPosterised(e.currentTarget.checked)} />
            <span>Show it in the block’s fabrics</span>
          </label>
        )}
      </div>
      <div class="picture-room">
        <div class="picture-stage" style={{ aspectRatio: `${picture.width} / ${picture.height}` }}>
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
                transform: settings.turn ? 'scaleX(-1)' : '',
              }}
            />
          )}
          {sheet ? (
            <SheetRim corners={sheet} />
          ) : (
            <PictureFrame
              box={crop}
              what="the block’s frame"
              look="crop"
              ratio={ratio}
              onMove={(box) => set({ crop: box })}
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
                onMove={(moved) => set({ focus: spots.map((s, k) => (k === i ? moved : s)) })}
              />
            ))}
        </div>
      </div>
      {sheet ? (
        <p class="hint" role="status">
          The block shows the sheet inside the line, seen from straight above. To draw a frame or spots on the picture,
          take away the tick at “Square up” first.
        </p>
      ) : (
        <>
          <p id="frame-keys" class="hint">
            Inside the frame is what the block shows: drag it or its corners, or use Tab and the arrow keys.
          </p>
          <p class="visually-hidden" role="status">
            The block shows {percent(crop[2])} of the width and {percent(crop[3])} of the height, {percent(crop[0])}{' '}
            from the left, {percent(crop[1])} from the top.
          </p>
        </>
      )}
    </section>
  );
}
