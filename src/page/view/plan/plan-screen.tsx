// A quilt or a class of several works: what is set, its picture, what it takes to buy, all of it at once.
import { useEffect, useState } from 'preact/hooks';
import { inches } from '../../../units.ts';
import type { Plan, PlanAsked, Work, WorkLine } from '../../api.ts';
import { sayHours } from '../block/block-numbers.tsx';
import { Chips } from '../parts/chips.tsx';
import { LengthField } from '../parts/length-field.tsx';
import { Slider } from '../parts/slider.tsx';
import { Snip } from '../parts/snip.tsx';
import { TickBox } from '../parts/tick-box.tsx';
import { wholeMeasures } from '../parts/whole-measures.ts';
import { attempt } from '../store/actions.ts';
import { at, Refused, server } from '../store/server.ts';
import { type Placed, QuiltPicture } from './quilt-picture.tsx';
import { dealt, type Quilt, quiltLayout } from './quilt-places.ts';

/** ms that settings rest before the plan is asked for */
const REST = 200;

const FIRST: Quilt = {
  ...{ rows: 3, columns: 3, setting: 'straight', sashing: inches(1), sashingAround: true, cornerstones: false },
  ...{ borders: [inches(3)], binding: inches(2.5), overhang: inches(4) },
};

export function PlanScreen({ what, works }: { readonly what: 'quilt' | 'class'; readonly works: readonly WorkLine[] }) {
  const [quilt, setQuilt] = useState<Quilt>(FIRST);
  const [people, setPeople] = useState(10);
  const [spare, setSpare] = useState(1);
  const [kit, setKit] = useState<'patches' | 'lengths'>('patches');
  const [placed, setPlaced] = useState<readonly Placed[]>([]);
  const [first, setFirst] = useState<Work>();
  const [plan, setPlan] = useState<Plan>();
  const [fault, setFault] = useState('');
  const ids = works.map((w) => w.id);
  const asked: PlanAsked = {
    ...{ works: ids, name: works.length === 1 ? works[0]!.name : what },
    ...(what === 'quilt' ? { quilt } : { class: { people, spare, kit } }),
  };
  const key = JSON.stringify(asked);
  useEffect(() => {
    void server.work(ids[0]!).then(setFirst, () => {});
  }, [ids[0]]);
  useEffect(() => {
    const stop = new AbortController();
    const rest = setTimeout(() => {
      server.plan(asked, stop.signal).then(
        (p) => {
          setPlan(p);
          setFault('');
        },
        (e: unknown) => {
          if (e instanceof Refused) setFault(e.message);
        },
      );
    }, REST);
    return () => {
      clearTimeout(rest);
      stop.abort();
    };
  }, [key]);
  const units = first?.settings.units ?? 'inch';
  const size = first?.block?.size ?? [inches(12), inches(12)];
  const places = quiltLayout(quilt, size).places.length;
  useEffect(() => {
    setPlaced(dealt(places, works.length).map((work) => ({ work, turn: 0 })));
  }, [places, works.length]);
  const set = (part: Partial<Quilt>): void => setQuilt({ ...quilt, ...part });
  const save = async (): Promise<void> => {
    const blob = await attempt('drawing the pages', () => server.planPages(asked));
    if (!blob) return;
    const link = document.createElement('a');
    link.href = URL.createObjectURL(blob);
    link.download = `${asked.name}.yardage.pdf`;
    link.click();
    setTimeout(() => URL.revokeObjectURL(link.href), 10_000);
  };
  const length = (label: string, value: number, onTake: (mm: number) => void) => (
    <LengthField label={label} value={value} units={units} onTake={onTake} />
  );
  return (
    <div class="planned">
      <div class="plan-settings">
        {what === 'quilt' ? (
          <>
            <Slider label="Rows" min={1} max={12} step={1} value={quilt.rows} onSlide={(rows) => set({ rows })} />
            <Slider
              label="Columns"
              min={1}
              max={12}
              step={1}
              value={quilt.columns}
              onSlide={(columns) => set({ columns })}
            />
            <Chips
              label="Setting"
              value={quilt.setting}
              chips={[
                { value: 'straight', label: 'Straight' },
                { value: 'on point', label: 'On point' },
              ]}
              onPick={(setting) => set({ setting })}
            />
            <div class="field-row">
              {length('Sashing', quilt.sashing, (sashing) => set({ sashing }))}
              {length('Border', quilt.borders[0] ?? 0, (b) => set({ borders: [b, ...quilt.borders.slice(1)] }))}
              {length('Outer border', quilt.borders[1] ?? 0, (b) => set({ borders: [quilt.borders[0] ?? 0, b] }))}
              {length('Binding strips', quilt.binding, (binding) => set({ binding }))}
              {length('Backing beyond the top', quilt.overhang, (overhang) => set({ overhang }))}
            </div>
            <TickBox checked={quilt.sashingAround} onTick={(sashingAround) => set({ sashingAround })}>
              Sashing around the outside too
            </TickBox>
            <TickBox checked={quilt.cornerstones} onTick={(cornerstones) => set({ cornerstones })}>
              Cornerstones
            </TickBox>
          </>
        ) : (
          <>
            <Slider label="People" min={1} max={60} step={1} value={people} onSlide={setPeople} />
            <Slider label="Spare kits" min={0} max={10} step={1} value={spare} onSlide={setSpare} />
            <Chips
              label="Each person gets"
              value={kit}
              chips={[
                { value: 'patches', label: 'Cut patches in bags' },
                { value: 'lengths', label: 'Lengths to cut' },
              ]}
              onPick={setKit}
            />
          </>
        )}
      </div>
      {what === 'quilt' && (
        <div class="quilt-room">
          <QuiltPicture {...{ quilt, works, placed }} block={size} onPlace={setPlaced} />
          <p class="hint">Drag a block to another place. Press it to turn it.</p>
        </div>
      )}
      <section class="plan-says" aria-label="What it takes">
        {fault && (
          <p class="fault" role="alert">
            {fault}
          </p>
        )}
        {plan && <PlanWords plan={plan} />}
        <div class="button-row">
          <button type="button" class="main-button" disabled={!plan || fault !== ''} onClick={() => void save()}>
            Save the plan (PDF)
          </button>
          <a class="button" href={at.packets(ids)} download>
            All packets (ZIP)
          </a>
        </div>
      </section>
    </div>
  );
}

function PlanWords({ plan }: { readonly plan: Plan }) {
  return (
    <>
      <p role="status">
        {plan.size ? `Finished top ${wholeMeasures(plan.size)}. ` : ''}
        {plan.blocks} blocks, about {sayHours(plan.hours)} of sewing.
      </p>
      <ul class="plan-buy">
        {plan.fabrics.map((f) => (
          <li key={f.code}>
            <Snip colour={f.colour} /> <span>{f.name}</span> <strong>{wholeMeasures(f.buy)}</strong>
          </li>
        ))}
        {plan.cloths.map((c) => (
          <li key={c.what}>
            <span>{c.what[0]!.toUpperCase() + c.what.slice(1)}</span> <strong>{wholeMeasures(c.buy)}</strong>
          </li>
        ))}
        {plan.batting && (
          <li>
            <span>Batting</span> <strong>{wholeMeasures(plan.batting)}</strong>
          </li>
        )}
      </ul>
      {plan.notes.map((n) => (
        <p class="hint" key={n}>
          {n}
        </p>
      ))}
    </>
  );
}
