// A line of text that is taken when it is left or Enter is pressed. What is half typed stays, though the work be drawn anew
// beneath it: a finer fit may come at any moment.
import { useEffect, useState } from 'preact/hooks';

export function TextField(props: {
  readonly label: string;
  readonly value: string;
  readonly onTake: (text: string) => void;
  /** how it lies among its neighbours; `field` where absent */
  readonly kind?: string;
  /** the label is read out, not shown */
  readonly unseen?: boolean;
}) {
  const [typed, setTyped] = useState(props.value);
  useEffect(() => setTyped(props.value), [props.value]);
  return (
    <label class={props.kind ?? 'field'}>
      <span class={props.unseen ? 'visually-hidden' : undefined}>{props.label}</span>
      <input
        type="text"
        value={typed}
        autocomplete="off"
        onInput={(e) => setTyped(e.currentTarget.value)}
        onChange={(e) => props.onTake(e.currentTarget.value.trim())}
      />
    </label>
  );
}
