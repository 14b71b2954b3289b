// Nearer, farther, all of it: as buttons, and as the keys + - 0 and Shift with the arrows.
import { useEffect } from 'preact/hooks';
import { Icon } from './icon.tsx';
import { panned, STEP, WHOLE, type Zoom, zoomedAt } from './zoom.ts';

/** share of what is shown that a key goes along by */
const ALONG = 0.15;
const ARROWS: Readonly<Record<string, readonly [number, number]>> = {
  ArrowLeft: [ALONG, 0],
  ArrowRight: [-ALONG, 0],
  ArrowUp: [0, ALONG],
  ArrowDown: [0, -ALONG],
};

export function ZoomButtons(props: {
  /** "the block" */
  readonly what: string;
  readonly zoom: Zoom;
  readonly onZoom: (zoom: Zoom) => void;
  /** whether the keys mean this one */
  readonly keys: boolean;
}) {
  const { what, zoom, onZoom } = props;
  useEffect(() => {
    if (!props.keys) return;
    const press = (e: KeyboardEvent): void => {
      if (e.ctrlKey || e.metaKey || e.altKey || e.defaultPrevented) return;
      if (e.target instanceof Element && e.target.closest('input, select, textarea')) return;
      const along = e.shiftKey && zoom.by > 1 ? ARROWS[e.key] : undefined;
      if (along) onZoom(panned(zoom, ...along));
      else if (e.key === '+' || e.key === '=') onZoom(zoomedAt(zoom, STEP));
      else if (e.key === '-') onZoom(zoomedAt(zoom, 1 / STEP));
      else if (e.key === '0') onZoom(WHOLE);
      else return;
      e.preventDefault();
    };
    addEventListener('keydown', press);
    return () => removeEventListener('keydown', press);
  }, [props.keys, zoom]);
  return (
    <fieldset class="zoom-buttons">
      <legend class="visually-hidden">Zoom {what}</legend>
      <button
        type="button"
        aria-label={`Zoom out of ${what}`}
        disabled={zoom.by <= 1}
        onClick={() => onZoom(zoomedAt(zoom, 1 / STEP))}
      >
        <Icon name="minus" />
      </button>
      <button
        type="button"
        class="zoom-by"
        aria-label={`Fit ${what} to the window`}
        disabled={zoom.by <= 1}
        onClick={() => onZoom(WHOLE)}
      >
        {zoom.by <= 1 ? 'Fit' : `${Math.round(zoom.by * 100)} %`}
      </button>
      <button type="button" aria-label={`Zoom in on ${what}`} onClick={() => onZoom(zoomedAt(zoom, STEP))}>
        <Icon name="plus" />
      </button>
    </fieldset>
  );
}
