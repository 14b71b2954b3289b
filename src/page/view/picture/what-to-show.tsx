// What should the block show? The head, the animal or all of the picture, the background, where it must be true.
import type { Box, Settings, Work } from '../../api.ts';
import { Chips } from '../parts/chips.tsx';
import { MoreChoices } from '../parts/more-choices.tsx';
import { TickBox } from '../parts/tick-box.tsx';
import { set } from '../store/actions.ts';
import { BackgroundChoice } from './background-choice.tsx';
import { insideBox, shapedBox } from './crop-ratio.ts';
import { FocusList } from './focus-list.tsx';
import { cropRatio } from './picture-canvas.tsx';
import { sheetOf } from './sheet-rim.tsx';
import { type Shown, shownBy, toCrop, toShow } from './what-is-shown.ts';

const WHOLE: Box = [0, 0, 1, 1];
/** what was drawn on the photo has no place on the sheet */
const SQUARED: Partial<Settings> = { sheet: 'auto', crop: 'auto', subject: null };
const MIDDLE: Box = [0.2, 0.2, 0.6, 0.6];

export function WhatToShow({ work, settings }: { readonly work: Work; readonly settings: Settings }) {
  const { choices } = work;
  const kind = settings.kind === 'auto' ? choices?.kind : settings.kind;
  const sheet = sheetOf(work, settings);
  const shown = shownBy(settings);
  // what is drawn on the photo of a sheet shows the photo itself; the tick says so, and brings the sheet back
  const asItIs: Partial<Settings> = sheet ? { sheet: 'no' } : {};
  const ownCrop = (): Partial<Settings> => {
    const ratio = cropRatio(settings.size, work.picture ?? { width: 1, height: 1 });
    const now = insideBox(shapedBox((sheet ? undefined : choices?.crop) ?? WHOLE, ratio));
    return { ...asItIs, ...toCrop(now, settings, choices?.figure) };
  };
  return (
    <>
      {(sheet || settings.sheet === 'no') && (
        <TickBox checked={settings.sheet !== 'no'} onTick={(on) => set(on ? SQUARED : { sheet: 'no' })}>
          Square up the sheet that was photographed
        </TickBox>
      )}
      <Chips
        label="Show"
        value={shown}
        chips={[
          { value: 'auto', label: 'Automatic' },
          { value: 'head', label: 'Head' },
          { value: 'animal', label: 'Whole animal' },
          { value: 'picture', label: 'Whole picture' },
          { value: 'own', label: 'My crop' },
        ]}
        onPick={(v) => set(v === 'own' ? ownCrop() : toShow(v))}
        hint={sheet ? 'A crop of yours is drawn on the photo as it is, table and all.' : sayShown(shown, kind, choices)}
      />
      <BackgroundChoice settings={settings} plain={choices?.background === 'plain'} />
      <Chips
        label="Both sides alike"
        value={settings.mirror}
        chips={[
          { value: 'auto', label: 'Automatic' },
          { value: 'yes', label: 'Yes' },
          { value: 'no', label: 'No' },
        ]}
        onPick={(mirror) => set({ mirror })}
        {...(settings.mirror === 'auto' ? { hint: 'A face that looks straight at you is made symmetrical.' } : {})}
      />
      <MoreChoices asks="More about the picture">
        <TickBox
          checked={settings.subject !== null}
          onTick={(on) =>
            set(on ? { ...asItIs, subject: (sheet ? undefined : choices?.subject) ?? MIDDLE } : { subject: null })
          }
        >
          Draw a frame around the animal, if the wrong one was found
        </TickBox>
        <FocusList settings={settings} sheet={sheet !== undefined} />
        <Chips
          label="Kind of picture"
          value={settings.kind}
          chips={[
            { value: 'auto', label: 'Automatic' },
            { value: 'photo', label: 'Photo' },
            { value: 'drawing', label: 'Drawing' },
            { value: 'flat', label: 'Flat art' },
          ]}
          onPick={(k) => set({ kind: k })}
          {...(choices && settings.kind === 'auto'
            ? { hint: `Treated as ${KINDS[choices.kind] ?? choices.kind}: ${choices.because}` }
            : {})}
        />
        {kind === 'drawing' && (
          <Chips
            label="Strokes of the drawing"
            value={settings.lines}
            chips={[
              { value: 'auto', label: 'Wide ones only' },
              { value: 'keep', label: 'Sew them' },
              { value: 'dissolve', label: 'Leave them out' },
            ]}
            onPick={(lines) => set({ lines })}
          />
        )}
        {kind === 'photo' && (
          <Chips
            label="Contrast in black or white fur"
            value={settings.tone}
            chips={[
              { value: 'auto', label: 'Automatic' },
              { value: 'even', label: 'Increased' },
              { value: 'keep', label: 'As in the picture' },
            ]}
            onPick={(tone) => set({ tone })}
          />
        )}
        <TickBox checked={settings.turn} onTick={(turn) => set({ turn })}>
          Turn the block left to right
        </TickBox>
      </MoreChoices>
    </>
  );
}

const KINDS: Readonly<Record<string, string>> = { photo: 'a photo', drawing: 'a drawing', flat: 'flat art' };

/** What was chosen automatically and why, or what would help. */
function sayShown(shown: Shown, kind: string | undefined, choices: Work['choices']): string {
  const figure = choices?.figure;
  if ((shown === 'head' || shown === 'animal') && kind && kind !== 'photo')
    return 'Heads and animals are found in photos only.';
  if (shown === 'head' && figure && !figure.head) return 'No face was found. Place the eyes on the picture.';
  return shown === 'auto' && figure ? figure.why : 'You can also drag the frame on the picture.';
}
