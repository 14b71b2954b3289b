// One work on the first screen: its block, its name, how far it is.
import { useState } from 'preact/hooks';
import type { WorkLine } from '../../api.ts';
import { attempt, loadHome } from '../store/actions.ts';
import { workAddress } from '../store/address.ts';
import { at, server } from '../store/server.ts';

const STAGES: Readonly<Record<WorkLine['stage'], string>> = {
  waiting: 'just begun',
  coarse: 'being worked out',
  full: '',
  changed: 'changed by hand',
  failed: 'could not be made',
};

export function WorkCard({ work }: { readonly work: WorkLine }) {
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
    <li class="card">
      <a href={workAddress(work.id)}>
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
      <button type="button" class="quiet" onClick={() => void putAway()}>
        {work.away ? 'Take out again' : 'Put away'}
        <span class="visually-hidden"> {work.name}</span>
      </button>
    </li>
  );
}
