// Yes or no.
import type { ComponentChildren } from 'preact';

export function TickBox(props: {
  readonly checked: boolean;
  readonly onTick: (on: boolean) => void;
  readonly children: ComponentChildren;
  readonly disabled?: boolean;
}) {
  return (
    <label class="tick">
      <input
        type="checkbox"
        checked={props.checked}
        disabled={props.disabled ?? false}
        onChange={(e) => props.onTick(e.currentTarget.checked)}
      />
      <span>{props.children}</span>
    </label>
  );
}
