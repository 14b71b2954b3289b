// The tasks, in the order in which they are usually done.
import { TASKS, type Task, workAddress } from '../store/address.ts';

const LABELS: Readonly<Record<Task, string>> = {
  picture: 'Picture',
  try: 'Side by side',
  hand: 'By hand',
  fabric: 'Cloth',
  paper: 'Print',
  sew: 'Sew',
};

export function TaskLinks(props: { readonly id: string; readonly task: Task; readonly block: boolean }) {
  return (
    <nav class="tasks" aria-label="What to do with this block">
      {TASKS.map((t) => (
        <a key={t} href={workAddress(props.id, t)} aria-current={t === props.task ? 'page' : undefined}>
          {LABELS[t]}
        </a>
      ))}
    </nav>
  );
}
