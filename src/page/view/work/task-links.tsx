// The tasks, in the order in which they are usually done.
import { TASKS, type Task, workAddress } from '../store/address.ts';

const LABELS: Readonly<Record<Task, string>> = {
  picture: 'Picture',
  try: 'Side by side',
  hand: 'Change pieces',
  fabric: 'Fabric and cutting',
  paper: 'Print',
  sew: 'Sew',
};

export function TaskLinks(props: { readonly id: string; readonly task: Task; readonly picture: boolean }) {
  // a block that came as a file has no picture to be made from again
  const tasks = TASKS.filter((t) => props.picture || t !== 'try');
  const label = (t: Task): string => (t === 'picture' && !props.picture ? 'Size and paper' : LABELS[t]);
  return (
    <nav class="tasks" aria-label="What to do with this block">
      {tasks.map((t) => (
        <a key={t} href={workAddress(props.id, t)} aria-current={t === props.task ? 'page' : undefined}>
          {label(t)}
        </a>
      ))}
    </nav>
  );
}
