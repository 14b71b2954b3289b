// How big, on what paper? Finished size, units, and what stands on the sheets.
import { inMm } from '../../../units.ts';
import type { Settings } from '../../api.ts';
import { Chips } from '../parts/chips.tsx';
import { LengthField } from '../parts/length-field.tsx';
import { TextField } from '../parts/text-field.tsx';
import { set } from '../store/actions.ts';

export function HowBig({ settings, blockOnly = false }: { readonly settings: Settings; readonly blockOnly?: boolean }) {
  const [width, height] = settings.size;
  const { units } = settings;
  // a block file keeps its shape: both sides change together
  const sized = (w: number, h: number): void =>
    set({ size: inMm(blockOnly ? (w !== width ? [w, (w * height) / width] : [(h * width) / height, h]) : [w, h]) });
  return (
    <>
      <Chips
        label="Measures"
        value={units}
        chips={[
          { value: 'inch', label: 'Inches' },
          { value: 'metric', label: 'Centimeters' },
        ]}
        onPick={(u) => set({ units: u })}
      />
      <div class="field-row">
        <LengthField label="Finished width" value={width} units={units} onTake={(w) => sized(w, height)} />
        <LengthField label="Finished height" value={height} units={units} onTake={(h) => sized(width, h)} />
      </div>
      <PaperSettings settings={settings} />
    </>
  );
}

/** What the sheets are printed on and how; shown beside the sheets too. */
export function PaperSettings({ settings }: { readonly settings: Settings }) {
  return (
    <>
      <Chips
        label="Paper"
        value={typeof settings.paper === 'string' ? settings.paper : undefined}
        chips={[
          { value: 'letter', label: 'Letter' },
          { value: 'a4', label: 'A4' },
          { value: 'both', label: 'Fits both' },
          { value: 'legal', label: 'Legal' },
          { value: 'tabloid', label: 'Tabloid' },
          { value: 'a3', label: 'A3' },
        ]}
        onPick={(paper) => set({ paper })}
      />
      <Chips
        label="Fabrics on the templates"
        value={settings.fill}
        chips={[
          { value: 'hatch', label: 'Hatched' },
          { value: 'tint', label: 'Pale color' },
          { value: 'colour', label: 'Full color' },
          { value: 'none', label: 'Code only' },
        ]}
        onPick={(fill) => set({ fill })}
        {...(settings.fill === 'colour'
          ? { hint: 'Full color costs ink, and some inks come off under the iron.' }
          : {})}
      />
      <Chips
        label="Packet"
        value={settings.packet}
        chips={[
          { value: 'full', label: 'Full, with every step' },
          { value: 'short', label: 'Short' },
        ]}
        onPick={(packet) => set({ packet })}
      />
      <TextField
        label="Your name, for the foot of every page"
        value={settings.designer}
        onTake={(designer) => set({ designer })}
      />
    </>
  );
}
