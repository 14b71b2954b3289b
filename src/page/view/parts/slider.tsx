// A number that is slid; the number itself stands beside it.
import { useId } from 'preact/hooks';

export function Slider(props: {
  readonly label: string;
  readonly value: number;
  readonly min: number;
  readonly max: number;
  readonly step: number;
  readonly says?: string;
  readonly hint?: string;
  readonly onSlide: (value: number) => void;
}) {
  const id = useId();
  const says = props.says ?? String(props.value);
  return (
    <div class="field slider">
      <label for={id}>{props.label}</label>
      <output for={id}>{says}</output>
      <input
        id={id}
        type="range"
        min={props.min}
        max={props.max}
        step={props.step}
        value={props.value}
        aria-valuetext={says}
        aria-describedby={props.hint ? `${id}-hint` : undefined}
        onInput={(e) => props.onSlide(Number(e.currentTarget.value))}
      />
      {props.hint && (
        <p class="hint" id={`${id}-hint`}>
          {props.hint}
        </p>
      )}
    </div>
  );
}
