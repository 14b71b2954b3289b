// What becomes of the background, and its color where it is one plain fabric.
import type { Settings } from '../../api.ts';
import { Chips } from '../parts/chips.tsx';
import { set } from '../store/actions.ts';

/** a light blue grey that most coats stand out from */
const FIRST_COLOUR = '#c4d3dd';

/** `plain`: whether it was made plain automatically. */
export function BackgroundChoice({ settings, plain }: { readonly settings: Settings; readonly plain: boolean }) {
  const { background, backgroundColour } = settings;
  return (
    <>
      <Chips
        label="Background"
        value={background}
        chips={[
          { value: 'auto', label: 'Automatic' },
          { value: 'keep', label: 'Keep' },
          { value: 'calm', label: 'Simplified' },
          { value: 'plain', label: 'Plain' },
        ]}
        onPick={(b) => set({ background: b })}
        {...(background === 'auto' && plain ? { hint: 'Plain, so that the animal stands out.' } : {})}
      />
      {(background === 'plain' || (background === 'auto' && plain)) && (
        <div class="field-row">
          <Chips
            label="Background color"
            value={backgroundColour ? 'own' : 'auto'}
            chips={[
              { value: 'auto', label: 'Automatic' },
              { value: 'own', label: 'My color' },
            ]}
            onPick={(v) => set({ backgroundColour: v === 'own' ? FIRST_COLOUR : '' })}
          />
          {backgroundColour && (
            <label class="field colour">
              <span>Color of the background</span>
              <input
                type="color"
                value={backgroundColour}
                onInput={(e) => set({ backgroundColour: e.currentTarget.value })}
              />
            </label>
          )}
        </div>
      )}
    </>
  );
}
