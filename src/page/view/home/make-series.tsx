// Several works sewn from the same fabrics: which ones, under what name, what they share.
import { useState } from 'preact/hooks';
import type { WorkLine } from '../../api.ts';
import { Chips } from '../parts/chips.tsx';
import { TickBox } from '../parts/tick-box.tsx';
import { attempt } from '../store/actions.ts';
import { seriesAddress } from '../store/address.ts';
import { server } from '../store/server.ts';
import { put, usePart } from '../store/state.ts';

export function MakeSeries(props: { readonly works: readonly WorkLine[]; readonly gathered: readonly string[] }) {
  const [name, setName] = useState('');
  const [common, setCommon] = useState<'fabrics' | 'background'>('fabrics');
  const waiting = usePart((s) => s.waiting);
  const { gathered } = props;
  const count = gathered.length;
  const gather = (id: string): void =>
    put({ gathered: gathered.includes(id) ? gathered.filter((g) => g !== id) : [...gathered, id] });
  const make = async (e: Event): Promise<void> => {
    e.preventDefault();
    const order = { name: name.trim() || 'series', works: gathered, settings: {}, common };
    const series = await attempt('beginning the series', () => server.beginSeries(order));
    if (!series) return;
    put({ gathered: undefined });
    location.hash = seriesAddress(series.id);
  };
  return (
    <form class="make-series" onSubmit={(e) => void make(e)}>
      <p class="hint">All are made anew, so that together they need few fabrics. Each stays a work of its own.</p>
      <fieldset>
        <legend>Which ones?</legend>
        <div class="tick-list">
          {props.works.map((w) => (
            <TickBox key={w.id} checked={gathered.includes(w.id)} onTick={() => gather(w.id)}>
              {w.name}
            </TickBox>
          ))}
        </div>
      </fieldset>
      <Chips
        label="What do they share?"
        value={common}
        chips={[
          { value: 'fabrics', label: 'All their fabrics' },
          { value: 'background', label: 'The background alone' },
        ]}
        onPick={setCommon}
      />
      <label class="field">
        <span>Name of the series</span>
        <input type="text" value={name} onInput={(e) => setName(e.currentTarget.value)} />
      </label>
      <button type="submit" class="main-button" disabled={count < 2 || waiting !== undefined}>
        {count < 2 ? 'Tick two or more above' : `Make a series of ${count}`}
      </button>
    </form>
  );
}
