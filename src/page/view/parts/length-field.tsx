// A length as quilters write it: "12", "3/8", "12 1/2" inches, or centimetres. Taken when the field is left or Enter is pressed.
import { useEffect, useId, useState } from 'preact/hooks';
import { UserError } from '../../../problems/problem.ts';
import { formatCm, formatInches, parseLength, type System } from '../../../units.ts';

const written = (mm: number, units: System): string => (units === 'inch' ? formatInches(mm) : formatCm(mm));

export function LengthField(props: {
  readonly label: string;
  readonly value: number;
  readonly units: System;
  readonly onTake: (mm: number) => void;
}) {
  const id = useId();
  const [text, setText] = useState(written(props.value, props.units));
  const [fault, setFault] = useState('');
  useEffect(() => {
    setText(written(props.value, props.units));
    setFault('');
  }, [props.value, props.units]);
  const unit = props.units === 'inch' ? 'in' : 'cm';
  const take = (typed: string): void => {
    setText(typed);
    try {
      const mm = parseLength(/[a-z"″]\s*$/i.test(typed) ? typed : `${typed}${unit}`, props.label);
      setFault('');
      if (written(mm, props.units) !== written(props.value, props.units)) props.onTake(mm);
    } catch (e) {
      if (!(e instanceof UserError)) throw e;
      setFault(e.message);
    }
  };
  return (
    <div class="field">
      <label for={id}>{props.label}</label>
      <span class="with-unit">
        <input
          id={id}
          type="text"
          size={7}
          value={text}
          autocomplete="off"
          aria-invalid={fault ? 'true' : undefined}
          aria-describedby={fault ? `${id}-fault` : undefined}
          onInput={(e) => setText(e.currentTarget.value)}
          onChange={(e) => take(e.currentTarget.value)}
        />
        <span>{unit}</span>
      </span>
      {fault && (
        <p class="fault" id={`${id}-fault`} role="alert">
          {fault}
        </p>
      )}
    </div>
  );
}
