// A disc on the picture where the block is to be true first: moved by its middle, sized by its rim.
import type { Box } from '../../api.ts';
import { turned, turnedPlace } from './crop-ratio.ts';
import { arrowStep, followPointer } from './drag.ts';

export interface Spot {
  readonly x: number;
  readonly y: number;
  readonly r: number;
  readonly weight: number;
}

export const SPOT_LEAST = 0.03;
export const SPOT_MOST = 0.5;
const within = (v: number, least: number, most: number): number => Math.max(least, Math.min(most, v));
const percent = (v: number): string => `${v * 100}%`;

export function FocusSpot(props: {
  readonly spot: Spot;
  readonly number: number;
  /** the part of the picture that the block shows */
  readonly crop: Box;
  /** degrees clockwise that it is turned about its middle */
  readonly turn: number;
  /** the picture's width over its height */
  readonly aspect: number;
  readonly onMove: (spot: Spot) => void;
}) {
  const { spot, crop, turn, aspect } = props;
  const stage = (e: Event): Element => (e.currentTarget as Element).closest('.picture-stage')!;
  const moved = (dx: number, dy: number): Spot => {
    const [across, down] = turned(dx, dy, -turn, aspect);
    return { ...spot, x: within(spot.x + across / crop[2], 0, 1), y: within(spot.y + down / crop[3], 0, 1) };
  };
  const sized = (dx: number): Spot => ({ ...spot, r: within(spot.r + dx / crop[2], SPOT_LEAST, SPOT_MOST) });
  const [cx, cy] = turnedPlace(crop, turn, aspect, spot.x, spot.y);
  const r = spot.r * crop[2];
  return (
    <div class="spot" style={{ left: percent(cx - r), top: percent(cy), width: percent(2 * r) }}>
      <button
        type="button"
        class="spot-middle"
        aria-label={`Move focus spot ${props.number}`}
        aria-describedby="frame-keys"
        onPointerDown={(e) => followPointer(e, stage(e), (dx, dy) => props.onMove(moved(dx, dy)))}
        onKeyDown={(e) => {
          const by = arrowStep(e);
          if (!by) return;
          e.preventDefault();
          props.onMove(moved(...by));
        }}
      >
        <span>{props.number}</span>
      </button>
      <button
        type="button"
        class="spot-rim"
        aria-label={`Size focus spot ${props.number}`}
        aria-describedby="frame-keys"
        onPointerDown={(e) => followPointer(e, stage(e), (dx) => props.onMove(sized(dx)))}
        onKeyDown={(e) => {
          const by = arrowStep(e);
          if (!by) return;
          e.preventDefault();
          props.onMove(sized(by[0] - by[1]));
        }}
      />
    </div>
  );
}
