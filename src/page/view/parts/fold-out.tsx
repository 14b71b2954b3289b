// A few things behind one button, laid over the page: closed again by Escape, or by a press anywhere else.
import type { ComponentChildren } from 'preact';
import { useEffect, useRef } from 'preact/hooks';

export function FoldOut(props: {
  readonly label: ComponentChildren;
  /** read out where the label is a drawing */
  readonly name?: string;
  readonly kind?: string;
  readonly children: ComponentChildren;
}) {
  const details = useRef<HTMLDetailsElement>(null);
  useEffect(() => {
    const close = (e: Event): void => {
      const own = details.current;
      if (!own?.open) return;
      if (e instanceof KeyboardEvent) {
        if (e.key !== 'Escape') return;
        own.open = false;
        own.querySelector('summary')?.focus();
      } else if (!own.contains(e.target as Node)) own.open = false;
    };
    addEventListener('pointerdown', close, true);
    addEventListener('keydown', close);
    return () => {
      removeEventListener('pointerdown', close, true);
      removeEventListener('keydown', close);
    };
  }, []);
  return (
    <details ref={details} class={`fold-out ${props.kind ?? ''}`}>
      <summary class="button" {...(props.name ? { 'aria-label': props.name } : {})}>
        {props.label}
      </summary>
      <div class="fold-out-body">{props.children}</div>
    </details>
  );
}
