// Under a photo: how its eyes and nose were found, and the tools to place them.
import type { Settings } from '../../api.ts';
import { set } from '../store/actions.ts';
import { confirmed, type FaceHandle, FOUND_AGAIN, type Part, sayFace } from './face-now.ts';

export function FaceTools(props: {
  readonly handles: readonly FaceHandle[];
  readonly settings: Settings;
  /** whether a face was looked for */
  readonly sought: boolean;
  readonly placing: Part | undefined;
  readonly onPlacing: (part: Part | undefined) => void;
  readonly zoomed: boolean;
  readonly onZoom: () => void;
}) {
  const { handles, settings, placing, onPlacing } = props;
  const byHand = settings.eyes !== 'auto' || settings.nose !== 'auto';
  const guess = handles.some((h) => h.by === 'guess');
  const tool = (part: Part, label: string) => (
    <button
      type="button"
      aria-pressed={placing === part}
      onClick={() => onPlacing(placing === part ? undefined : part)}
    >
      {label}
    </button>
  );
  return (
    <div class="face-tools">
      <p role="status">
        {placing ? `Tap the picture where the ${placing} is.` : sayFace(handles, settings, props.sought)}
      </p>
      <div class="button-row">
        {guess && (
          <button type="button" onClick={() => set(confirmed(handles))}>
            Yes, use them
          </button>
        )}
        {tool('eye', 'Place an eye')}
        {tool('nose', 'Place the nose')}
        <button type="button" aria-pressed={props.zoomed} onClick={props.onZoom}>
          Zoom to the face
        </button>
        {byHand && (
          <button type="button" onClick={() => set(FOUND_AGAIN)}>
            Find them again
          </button>
        )}
      </div>
      {handles.length > 0 && (
        <p id="face-keys" class="hint">
          Drag an eye or the nose to move it, or use the arrow keys. Tap it twice to remove it, or press Delete.
        </p>
      )}
    </div>
  );
}
