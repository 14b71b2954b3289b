// What is going on, in plain words, with the share that is done.
import type { Work } from '../../api.ts';
import { usePart } from '../store/state.ts';

export function StatusLine({ work }: { readonly work: Work }) {
  const waiting = usePart((s) => s.waiting);
  const progress = usePart((s) => (s.progress?.id === work.id ? s.progress : undefined));
  const running = work.stage === 'waiting' || work.stage === 'coarse';
  const share = running && progress ? Math.round(progress.share * 100) : undefined;
  return (
    <div class="status">
      <p role="status">{sayStatus(work, waiting)}</p>
      {running && (
        <p class="share">
          {progress?.stage ? `${progress.stage}${share === undefined ? '' : `, ${share} %`}` : ''}
          <progress max={100} {...(share === undefined ? {} : { value: share })} aria-label="Share done" />
        </p>
      )}
      {work.stage === 'failed' && (
        <p class="fault" role="alert">
          {work.failed ?? 'The block could not be made.'} Change a setting to try again, or undo. Nothing is lost.
        </p>
      )}
    </div>
  );
}

function sayStatus(work: Work, waiting: string | undefined): string {
  if (waiting) return `${waiting[0]!.toUpperCase()}${waiting.slice(1)} …`;
  switch (work.stage) {
    case 'waiting':
      return 'Making the block …';
    case 'coarse':
      return 'First try. A better one is on its way.';
    case 'full':
      return 'The block is ready. Every piece can be sewn.';
    case 'changed':
      return `The block is ready${work.undo ? ', with your own changes' : ''}. Every piece can be sewn.`;
    case 'failed':
      return '';
  }
}
