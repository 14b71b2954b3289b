// One of a few: radio buttons that look like snips of paper.
import { useId } from 'preact/hooks';

export interface Chip<T> {
  readonly value: T;
  readonly label: string;
}

export function Chips<T extends string | number>(props: {
  readonly label: string;
  /** none of them where it is undefined */
  readonly value: T | undefined;
  readonly chips: readonly Chip<T>[];
  readonly onPick: (value: T) => void;
  readonly hint?: string;
}) {
  const name = useId();
  return (
    <fieldset class="chips">
      <legend>{props.label}</legend>
      <div class="chip-row">
        {props.chips.map((c) => (
          <label class="chip" key={c.value}>
            <input type="radio" name={name} checked={c.value === props.value} onChange={() => props.onPick(c.value)} />
            <span>{c.label}</span>
          </label>
        ))}
      </div>
      {props.hint && <p class="hint">{props.hint}</p>}
    </fieldset>
  );
}
