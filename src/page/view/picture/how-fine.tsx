// How many fabrics, how much detail? The sewer's level sets the rest; each can still be set by itself.

import { LEVEL_DEFAULTS, LEVELS, REFUSED_WIDTH, WARNED_WIDTH } from '../../../levels.ts';
import { formatLength, inMm, mm } from '../../../units.ts';
import type { Settings, Work } from '../../api.ts';
import { Chips } from '../parts/chips.tsx';
import { MoreChoices } from '../parts/more-choices.tsx';
import { Slider } from '../parts/slider.tsx';
import { set } from '../store/actions.ts';
import { workAddress } from '../store/address.ts';

/** sixteenths of an inch, mm */
const SIXTEENTH = 25.4 / 16;
const WIDEST = 25.4;

export function HowFine({ work, settings }: { readonly work: Work; readonly settings: Settings }) {
  return (
    <>
      <Chips
        label="Skill level"
        value={settings.level}
        chips={LEVELS.map((l) => ({ value: l, label: `${l[0]!.toUpperCase()}${l.slice(1)}` }))}
        onPick={(level) => {
          const { size, shades, pieces, smallest, mostPieces } = LEVEL_DEFAULTS[level];
          // a shape that was chosen stays; only its scale follows the level
          const scale = size / Math.max(...settings.size);
          const scaled = inMm([settings.size[0] * scale, settings.size[1] * scale]);
          set({ level, size: scaled, shades, pieces, smallest, mostPieces });
        }}
        hint="Sets size, fabrics and pieces; change any of them afterwards."
      />
      <Chips
        label="Fabrics, background included"
        value={settings.shades}
        chips={[
          { value: 'auto' as number | 'auto', label: 'Automatic' },
          ...[2, 3, 4, 5, 6, 7, 8, 9].map((n) => ({ value: n as number | 'auto', label: String(n) })),
        ]}
        onPick={(shades) => set({ shades })}
      />
      <Slider
        label="Pieces, at most"
        min={10}
        max={200}
        step={5}
        value={settings.pieces}
        onSlide={(pieces) => set({ pieces })}
        hint="More pieces show more detail but take longer."
      />
      <MoreChoices asks="Finer choices">
        <Slider
          label="Narrowest piece"
          min={Math.round(REFUSED_WIDTH / SIXTEENTH)}
          max={Math.round(WIDEST / SIXTEENTH)}
          step={1}
          value={Math.round(settings.smallest / SIXTEENTH)}
          says={formatLength(settings.smallest, settings.units)}
          onSlide={(n) => set({ smallest: mm(n * SIXTEENTH) })}
          {...(settings.smallest < WARNED_WIDTH - 0.01
            ? { hint: `Under ${formatLength(WARNED_WIDTH, settings.units)} is hard to sew.` }
            : {})}
        />
        <Slider
          label="Pieces in a section, at most"
          min={3}
          max={16}
          step={1}
          value={settings.mostPieces}
          onSlide={(mostPieces) => set({ mostPieces })}
        />
        <button type="button" onClick={() => set({ seed: settings.seed + 1 })}>
          Another block from the same picture
        </button>
      </MoreChoices>
      <div class="button-row">
        <a class="button" href={workAddress(work.id, 'try')}>
          Compare piece and fabric counts
        </a>
      </div>
    </>
  );
}
