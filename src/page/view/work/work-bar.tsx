// The slim bar of a work: the way home, its name, its tasks, the steps back and forward.
import { useEffect, useState } from 'preact/hooks';
import type { Work } from '../../api.ts';
import { FoldOut } from '../parts/fold-out.tsx';
import { Icon } from '../parts/icon.tsx';
import { SchemeChoice } from '../parts/scheme-choice.tsx';
import { copyWork, set, step } from '../store/actions.ts';
import { homeAddress, TASKS, type Task, workAddress } from '../store/address.ts';
import { usePart } from '../store/state.ts';

const LABELS: Readonly<Record<Task, string>> = {
  picture: 'Design',
  try: 'Compare',
  hand: 'Edit',
  fabric: 'Fabric',
  paper: 'Print',
  sew: 'Sew',
};

export function WorkBar({ work, task }: { readonly work: Work; readonly task: Task }) {
  useStepKeys();
  // a block that came as a file has no picture to be made from again
  const reads = usePart((s) => s.here?.reads === true);
  const tasks = TASKS.filter((t) => (reads ? t === 'fabric' || t === 'sew' : work.picture || t !== 'try'));
  return (
    <header class="work-bar">
      <a class="brand" href={homeAddress}>
        <img src="icon.svg" alt="" width="28" height="28" />
        <span class="to-home">All projects</span>
      </a>
      {reads ? <span class="name-read">{work.name}</span> : <WorkName work={work} />}
      <nav class="tasks" aria-label="What to do with this block">
        {tasks.map((t) => (
          <a key={t} href={workAddress(work.id, t)} aria-current={t === task ? 'page' : undefined}>
            {t === 'picture' && !work.picture ? 'Size' : LABELS[t]}
          </a>
        ))}
      </nav>
      {!reads && (
        <div class="steps">
          <StepButton way="undo" label="Undo" what={work.undo} />
          <StepButton way="redo" label="Redo" what={work.redo} />
          <FoldOut kind="to-left" label={<Icon name="more" />} name="More">
            <button type="button" onClick={() => void copyWork()}>
              Make a copy
            </button>
            <p class="hint">To try something else and keep this one as it is.</p>
            <SchemeChoice />
          </FoldOut>
          {task !== 'paper' && work.block && (
            <a class="button main-button print-it" href={workAddress(work.id, 'paper')}>
              Print it
            </a>
          )}
        </div>
      )}
    </header>
  );
}

function WorkName({ work }: { readonly work: Work }) {
  const name = usePart((s) => s.wanted.name) ?? work.name;
  const [typed, setTyped] = useState(name);
  useEffect(() => setTyped(name), [name]);
  useEffect(() => {
    document.title = `${name} · Seamwright`;
    return () => {
      document.title = 'Seamwright';
    };
  }, [name]);
  return (
    <label class="work-name">
      <span class="visually-hidden">Name of the block</span>
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
  );
}

/** Ctrl+Z, and Ctrl+Shift+Z or Ctrl+Y; in a field of text they are the field's. */
function useStepKeys(): void {
  useEffect(() => {
    const keys = (e: KeyboardEvent): void => {
      const typing = e.target instanceof HTMLInputElement && /text|search|number/.test(e.target.type);
      const key = e.key.toLowerCase();
      if (typing || !(e.ctrlKey || e.metaKey) || e.altKey || (key !== 'z' && key !== 'y')) return;
      e.preventDefault();
      void step(key === 'y' || e.shiftKey ? 'redo' : 'undo');
    };
    addEventListener('keydown', keys);
    return () => removeEventListener('keydown', keys);
  }, []);
}

function StepButton(props: {
  readonly way: 'undo' | 'redo';
  readonly label: string;
  readonly what: string | undefined;
}) {
  return (
    <button
      type="button"
      class="step-button"
      disabled={props.what === undefined}
      title={props.what ?? ''}
      aria-keyshortcuts={props.way === 'undo' ? 'Control+Z' : 'Control+Shift+Z Control+Y'}
      onClick={() => void step(props.way)}
    >
      <Icon name={props.way} />
      <span class="step-label">{props.label}</span>
      {props.what && <span class="visually-hidden">: {props.what}</span>}
    </button>
  );
}
