// The server's sentence on what was not done, near where it was asked for.
import { put, usePart } from '../store/state.ts';

export function RefusalNote() {
  const refusal = usePart((s) => s.refusal);
  return (
    <div role="alert" class="refusal-place">
      {refusal && (
        <div class="refusal">
          <p>{refusal}</p>
          <button type="button" onClick={() => put({ refusal: undefined })}>
            OK
          </button>
        </div>
      )}
    </div>
  );
}
