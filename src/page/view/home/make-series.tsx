// Several works: sewn from the same fabrics, or planned for a class or a quilt. They are ticked on their cards.
import { useState } from 'preact/hooks';
import type { WorkLine } from '../../api.ts';
import { useShelf } from '../fabric/shelf.tsx';
import { Chips } from '../parts/chips.tsx';
import { Slider } from '../parts/slider.tsx';
import { TickBox } from '../parts/tick-box.tsx';
import { PlanScreen } from '../plan/plan-screen.tsx';
import { attempt } from '../store/actions.ts';
import { seriesAddress } from '../store/address.ts';
import { server } from '../store/server.ts';
import { put, usePart } from '../store/state.ts';

type What = 'series' | 'quilt' | 'class';

export function MakeSeries(props: { readonly works: readonly WorkLine[]; readonly gathered: readonly string[] }) {
  const [what, setWhat] = useState<What>('series');
  const { gathered } = props;
  const chosen = gathered.flatMap((id) => props.works.find((w) => w.id === id) ?? []);
  return (
    <div class="make-series">
      <Chips
        label="What would you like to make?"
        value={what}
        chips={[
          { value: 'series', label: 'A series in the same fabrics' },
          { value: 'quilt', label: 'A quilt' },
          { value: 'class', label: 'A class' },
        ]}
        onPick={setWhat}
      />
      <p role="status">
        {chosen.length ? `Chosen: ${chosen.map((w) => w.name).join(', ')}` : 'Choose projects below: tick their cards.'}
      </p>
      {what === 'series' ? (
        <SeriesForm gathered={gathered} />
      ) : (
        chosen.length > 0 && <PlanScreen key={what} what={what} works={chosen} />
      )}
    </div>
  );
}

function SeriesForm({ gathered }: { readonly gathered: readonly string[] }) {
  const [name, setName] = useState('');
  const [common, setCommon] = useState<'fabrics' | 'background'>('fabrics');
  const [count, setCount] = useState(0);
  const [own, setOwn] = useState(false);
  const [locked, setLocked] = useState<readonly string[]>([]);
  const shelf = useShelf();
  const waiting = usePart((s) => s.waiting);
  const make = async (e: Event): Promise<void> => {
    e.preventDefault();
    const plain = shelf.map(({ name: n, colour }) => ({ name: n, colour }));
    const order = {
      ...{ name: name.trim() || 'series', works: gathered, settings: {}, common },
      ...(count > 0 && { count }),
      ...(own && plain.length > 0 && { own: plain }),
      ...(locked.length > 0 && { locked: plain.filter((f) => locked.includes(f.name)) }),
    };
    const series = await attempt('beginning the series', () => server.beginSeries(order));
    if (!series) return;
    put({ gathered: undefined });
    location.hash = seriesAddress(series.id);
  };
  return (
    <form class="series-form" onSubmit={(e) => void make(e)}>
      <Chips
        label="What do they share?"
        value={common}
        chips={[
          { value: 'fabrics', label: 'All their fabrics' },
          { value: 'background', label: 'The background only' },
        ]}
        onPick={setCommon}
      />
      {common === 'fabrics' && (
        <>
          <Slider
            label="Fabrics for all together"
            min={0}
            max={16}
            step={1}
            value={count}
            says={count ? String(count) : 'Automatic'}
            onSlide={(n) => setCount(n === 1 ? 2 : n)}
            hint="Few fabrics dull colors that only one block has. Keep those below."
          />
          {shelf.length > 0 && (
            <>
              <TickBox checked={own} onTick={setOwn}>
                Use only fabrics from my shelf
              </TickBox>
              {!own && (
                <fieldset class="keep-colors">
                  <legend>Colors that must be among them</legend>
                  {shelf.map((f) => (
                    <TickBox
                      key={f.id}
                      checked={locked.includes(f.name)}
                      onTick={(on) => setLocked(on ? [...locked, f.name] : locked.filter((n) => n !== f.name))}
                    >
                      {f.name}
                    </TickBox>
                  ))}
                </fieldset>
              )}
            </>
          )}
        </>
      )}
      <label class="field">
        <span>Name of the series</span>
        <input type="text" value={name} onInput={(e) => setName(e.currentTarget.value)} />
      </label>
      <button type="submit" class="main-button" disabled={gathered.length < 2 || waiting !== undefined}>
        {gathered.length < 2 ? 'Choose two or more' : `Make a series of ${gathered.length}`}
      </button>
    </form>
  );
}
