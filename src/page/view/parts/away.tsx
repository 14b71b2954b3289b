// Says that the program behind the page does not answer, and what to do.
import { usePart } from '../store/state.ts';

export function Away() {
  const reachable = usePart((s) => s.reachable);
  const kept = usePart((s) => Object.keys(s.wanted).length > 0);
  return (
    <div role="alert" class="away-place">
      {!reachable && (
        <p class="away">
          <strong>The program behind this page does not answer.</strong> Your projects are kept on this computer. Start
          the program again as you did before; this page tries again every two seconds
          {kept ? ' and will then carry out what you changed last' : ''}.
        </p>
      )}
    </div>
  );
}
