// One work on the first screen: its block, its name, how far it is.
import { useState } from 'preact/hooks';
import type { WorkLine } from '../../api.ts';
import { TickBox } from '../parts/tick-box.tsx';
import { attempt, loadHome } from '../store/actions.ts';
import { workAddress } from '../store/address.ts';
import { at, server } from '../store/server.ts';
import { now, put, usePart } from '../store/state.ts';

/** Ticks a work for a series, or takes the tick away. */
function gather(id: string): void {
  const gathered = now().gathered ?? [];
  put({ gathered: gathered.includes(id) ? gathered.filter((g) => g !== id) : [...gathered, id] });
}

const STAGES: Readonly<Record<WorkLine['stage'], string>> = {
  waiting: 'just begun',
  coarse: 'being worked out',
  full: '',
  changed: 'changed by hand',
  failed: 'could not be made',
};

/** `tick`: whether it is one of those that are gathered, while some are. */
export function WorkCard({ work, tick }: { readonly work: WorkLine; readonly tick?: boolean }) {
  const progress = usePart((s) => (s.progress?.id === work.id ? s.progress : undefined));
  const reads = usePart((s) => s.here?.reads === true);
  const [missing, setMissing] = useState('');
  // a block that is not there yet may be when the work has something new
  const face = at.face(work.id, `${work.changed} ${work.stage}`);
  const pictureless = missing === face;
  const day = new Date(work.changed);
  const facts = [
    work.pieces ? `${work.pieces} pieces` : '',
    STAGES[work.stage],
    Number.isNaN(day.getTime()) ? '' : day.toLocaleDateString(undefined, { day: 'numeric', month: 'short' }),
  ].filter(Boolean);
  const putAway = async (): Promise<void> => {
    await attempt('putting it away', () => server.putAway(work.id, work.away ? 'back' : 'away'));
    await loadHome();
  };
  return (
    <li class={tick ? 'card ticked' : 'card'}>
      {tick !== undefined && (
        <TickBox checked={tick} onTick={() => gather(work.id)}>
          <span class="visually-hidden">{work.name}: </span>
          {tick ? 'Chosen' : 'Choose'}
        </TickBox>
      )}
      <a href={workAddress(work.id, reads ? 'sew' : 'picture')}>
        <span class="card-picture">
          {pictureless ? (
            <span class="no-picture" aria-hidden="true" />
          ) : (
            <img src={face} alt="" loading="lazy" onError={() => setMissing(face)} />
          )}
        </span>
        <span class="card-name">{work.name}</span>
        <span class="card-facts">{facts.join(' · ')}</span>
      </a>
      {progress && <progress max={1} value={progress.share} aria-label={`${work.name}: ${progress.stage}`} />}
      {!reads && (
        <button type="button" class="quiet" onClick={() => void putAway()}>
          {work.away ? 'Take out again' : 'Put away'}
          <span class="visually-hidden"> {work.name}</span>
        </button>
      )}
    </li>
  );
}
