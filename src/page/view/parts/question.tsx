// A group of settings under the question that it answers; it can be folded away.
import type { ComponentChildren } from 'preact';

export function Question(props: {
  readonly asks: string;
  readonly answer?: string;
  readonly open?: boolean;
  readonly children: ComponentChildren;
}) {
  return (
    <details class="question" open={props.open ?? true}>
      <summary>
        <h3>{props.asks}</h3>
        {props.answer && <span class="answer">{props.answer}</span>}
      </summary>
      <div class="question-body">{props.children}</div>
    </details>
  );
}
