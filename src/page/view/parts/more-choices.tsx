// Settings that few need, folded away under the ones that all do.
import type { ComponentChildren } from 'preact';

export function MoreChoices(props: { readonly asks: string; readonly children: ComponentChildren }) {
  return (
    <details class="more-choices">
      <summary>{props.asks}</summary>
      <div class="question-body">{props.children}</div>
    </details>
  );
}
