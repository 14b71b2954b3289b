// A frame on the picture: moved by its grip or its inside, sized by its corners, by pointer and by arrow keys.
import type { Box } from '../../api.ts';
import { movedBox, sizedBox } from './crop-ratio.ts';
import { arrowStep, followPointer } from './drag.ts';

const CORNERS = [
  { right: false, low: false, place: 'upper left' },
  { right: true, low: false, place: 'upper right' },
  { right: false, low: true, place: 'lower left' },
  { right: true, low: true, place: 'lower right' },
] as const;

const percent = (v: number): string => `${v * 100}%`;

export function PictureFrame(props: {
  readonly box: Box;
  /** "the block’s frame" */
  readonly what: string;
  readonly look: 'crop' | 'subject';
  readonly ratio?: number;
  /** degrees clockwise that it is turned about its middle */
  readonly turn?: number;
  /** what a hand begins with, where it may not be the frame as it is drawn: upright and inside the picture */
  readonly from?: Box;
  readonly onMove: (box: Box) => void;
}) {
  const { box, ratio, turn, from = box } = props;
  const stage = (e: Event): Element => (e.currentTarget as Element).closest('.picture-stage')!;
  const drag = (e: PointerEvent): void => followPointer(e, stage(e), (dx, dy) => props.onMove(movedBox(from, dx, dy)));
  const keys = (e: KeyboardEvent, change: (dx: number, dy: number) => Box): void => {
    const by = arrowStep(e);
    if (!by) return;
    e.preventDefault();
    props.onMove(change(...by));
  };
  return (
    <div
      class={`frame ${props.look}`}
      style={{
        ...{ left: percent(box[0]), top: percent(box[1]), width: percent(box[2]), height: percent(box[3]) },
        transform: turn ? `rotate(${turn}deg)` : '',
      }}
      onPointerDown={props.look === 'crop' ? drag : undefined}
    >
      <button
        type="button"
        class="grip"
        aria-label={`Move ${props.what}`}
        aria-describedby="frame-keys"
        onPointerDown={drag}
        onKeyDown={(e) => keys(e, (dx, dy) => movedBox(from, dx, dy))}
      >
        <svg viewBox="0 0 24 24" aria-hidden="true">
          <path d="M12 3v18M3 12h18M9 6l3-3 3 3M9 18l3 3 3-3M6 9l-3 3 3 3M18 9l3 3-3 3" />
        </svg>
      </button>
      {CORNERS.map((c) => (
        <button
          key={c.place}
          type="button"
          class={`corner ${c.place.replace(' ', '-')}`}
          aria-label={`Size ${props.what} at its ${c.place} corner`}
          aria-describedby="frame-keys"
          onPointerDown={(e) =>
            followPointer(e, stage(e), (dx, dy) => props.onMove(sizedBox(from, c.right, c.low, dx, dy, ratio)))
          }
          onKeyDown={(e) => keys(e, (dx, dy) => sizedBox(from, c.right, c.low, dx, dy, ratio))}
        />
      ))}
    </div>
  );
}
