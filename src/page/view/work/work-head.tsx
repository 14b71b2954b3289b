// The work's name, the steps back and forward, and a copy to try something else.
import { useEffect, useState } from 'preact/hooks';
import type { Work } from '../../api.ts';
import { copyWork, set, step } from '../store/actions.ts';
import { usePart } from '../store/state.ts';

export function WorkHead({ work }: { readonly work: Work }) {
  const name = usePart((s) => s.wanted.name) ?? work.name;
  const [typed, setTyped] = useState(name);
  useEffect(() => setTyped(name), [name]);
  useEffect(() => {
    document.title = `${name} · Seamwright`;
    return () => {
      document.title = 'Seamwright';
    };
  }, [name]);
  useEffect(() => {
    const keys = (e: KeyboardEvent): void => {
      const typing = e.target instanceof HTMLInputElement && /text|search|number/.test(e.target.type);
      if (typing || !(e.ctrlKey || e.metaKey) || e.altKey || e.key.toLowerCase() !== 'z') return;
      e.preventDefault();
      void step(e.shiftKey ? 'redo' : 'undo');
    };
    addEventListener('keydown', keys);
    return () => removeEventListener('keydown', keys);
  }, []);
  return (
    <div class="work-head">
      <h1 class="visually-hidden">{name}</h1>
      <label class="work-name">
        <span>Name of the block</span>
        <input
          type="text"
          value={typed}
          onInput={(e) => setTyped(e.currentTarget.value)}
          onChange={(e) => {
            const taken = e.currentTarget.value.trim();
            if (taken && taken !== name) set({ name: taken });
            else setTyped(name);
          }}
        />
      </label>
      <div class="steps">
        <StepButton way="undo" label="Step back" what={work.undo} />
        <StepButton way="redo" label="Step forward" what={work.redo} />
        <button type="button" onClick={() => void copyWork()} title="to try something else and keep this one as it is">
          Make a copy
        </button>
      </div>
    </div>
  );
}

function StepButton(props: {
  readonly way: 'undo' | 'redo';
  readonly label: string;
  readonly what: string | undefined;
}) {
  return (
    <button
      type="button"
      disabled={props.what === undefined}
      title={props.what ?? ''}
      aria-keyshortcuts={props.way === 'undo' ? 'Control+Z' : 'Control+Shift+Z'}
      onClick={() => void step(props.way)}
    >
      {props.label}
      {props.what && <span class="visually-hidden">: {props.what}</span>}
    </button>
  );
}
