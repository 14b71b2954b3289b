// Where the block must be true first: the face as found, nowhere, or spots placed by hand.
import type { Settings } from '../../api.ts';
import { Chips } from '../parts/chips.tsx';
import { Slider } from '../parts/slider.tsx';
import { set } from '../store/actions.ts';
import { SPOT_LEAST, SPOT_MOST, type Spot } from './focus-spot.tsx';

const NEW: Spot = { x: 0.5, y: 0.4, r: 0.15, weight: 3 };
/** On a `sheet` that was squared up no spots are placed: they are shown on the picture, which is not what the block shows. */
export function FocusList({ settings, sheet }: { readonly settings: Settings; readonly sheet: boolean }) {
  const { focus } = settings;
  const value = focus === 'auto' ? 'auto' : focus.length ? 'own' : 'none';
  const own = focus === 'auto' ? [] : focus;
  const change = (at: number, spot: Spot | undefined): void =>
    set({ focus: own.flatMap((s, i) => (i === at ? (spot ? [spot] : []) : [s])) });
  return (
    <div class="focus-list">
      <Chips
        label="Extra detail"
        value={value}
        chips={[
          { value: 'auto', label: 'Automatic' },
          ...(sheet ? [] : [{ value: 'own', label: 'My spots' } as const]),
          { value: 'none', label: 'Same everywhere' },
        ]}
        hint={
          sheet
            ? 'Clear the box “Square up” to place spots of your own.'
            : value === 'auto'
              ? 'Small things that stand out, such as eyes.'
              : value === 'own'
                ? 'Drag each spot on the picture to where it counts: the eyes, the nose.'
                : 'No place gets more than another.'
        }
        onPick={(v) => set({ focus: v === 'auto' ? 'auto' : v === 'none' ? [] : [NEW] })}
      />
      {(sheet ? [] : own).map((spot, i) => (
        <fieldset class="spot-row" key={i}>
          <legend>Spot {i + 1}</legend>
          <Slider
            label="Size"
            min={SPOT_LEAST}
            max={SPOT_MOST}
            step={0.01}
            value={spot.r}
            says={`${Math.round(spot.r * 200)} % of the width`}
            onSlide={(r) => change(i, { ...spot, r })}
          />
          <Slider
            label="Counts"
            min={1}
            max={10}
            step={0.5}
            value={spot.weight}
            says={`${spot.weight} times`}
            onSlide={(weight) => change(i, { ...spot, weight })}
          />
          <button type="button" onClick={() => change(i, undefined)}>
            Remove spot {i + 1}
          </button>
        </fieldset>
      ))}
      {value === 'own' && !sheet && (
        <button type="button" onClick={() => set({ focus: [...own, NEW] })}>
          Place another spot
        </button>
      )}
    </div>
  );
}
