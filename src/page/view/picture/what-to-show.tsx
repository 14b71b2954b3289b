// What shall the block show? The part of the picture, the animal, the background, where it must be true.
import type { Box, Settings, Work } from '../../api.ts';
import { Chips } from '../parts/chips.tsx';
import { MoreChoices } from '../parts/more-choices.tsx';
import { TickBox } from '../parts/tick-box.tsx';
import { set } from '../store/actions.ts';
import { shapedBox } from './crop-ratio.ts';
import { FocusList } from './focus-list.tsx';
import { cropRatio } from './picture-pane.tsx';
import { sheetOf } from './sheet-rim.tsx';

const WHOLE: Box = [0, 0, 1, 1];
/** what was drawn on the photo has no place on the sheet */
const SQUARED: Partial<Settings> = { sheet: 'auto', crop: 'middle', subject: null };
const MIDDLE: Box = [0.2, 0.2, 0.6, 0.6];

export function WhatToShow({ work, settings }: { readonly work: Work; readonly settings: Settings }) {
  const crop = typeof settings.crop === 'string' ? settings.crop : 'own';
  const kind = settings.kind === 'auto' ? work.choices?.kind : settings.kind;
  const sheet = sheetOf(work, settings);
  // what is drawn on the photo of a sheet shows the photo itself; the tick says so, and brings the sheet back
  const asItIs: Partial<Settings> = sheet ? { sheet: 'no' } : {};
  return (
    <>
      {(sheet || settings.sheet === 'no') && (
        <TickBox checked={settings.sheet !== 'no'} onTick={(on) => set(on ? SQUARED : { sheet: 'no' })}>
          Square up the sheet that was photographed
        </TickBox>
      )}
      <Chips
        label="Part of the picture"
        value={crop}
        chips={[
          { value: 'middle', label: 'As much as fits' },
          { value: 'auto', label: 'Around the animal' },
          { value: 'own', label: 'My frame' },
        ]}
        onPick={(c) =>
          set(
            c === 'own'
              ? {
                  ...asItIs,
                  crop: shapedBox(
                    (sheet ? undefined : work.choices?.crop) ?? WHOLE,
                    cropRatio(settings.size, work.picture ?? { width: 1, height: 1 }),
                  ),
                }
              : { crop: c as 'middle' | 'auto' },
          )
        }
        hint={
          sheet
            ? 'A frame of yours is drawn on the photo as it is, table and all.'
            : 'Or drag the frame on the picture.'
        }
      />
      <Chips
        label="Background"
        value={settings.background}
        chips={[
          { value: 'keep', label: 'As it is' },
          { value: 'calm', label: 'Calmed' },
          { value: 'plain', label: 'One fabric' },
        ]}
        onPick={(background) => set({ background })}
      />
      <MoreChoices asks="More about the picture">
        <TickBox
          checked={settings.subject !== null}
          onTick={(on) =>
            set(on ? { ...asItIs, subject: (sheet ? undefined : work.choices?.subject) ?? MIDDLE } : { subject: null })
          }
        >
          Draw a frame around the animal, if the wrong one was found
        </TickBox>
        <FocusList settings={settings} sheet={sheet !== undefined} />
        <Chips
          label="Kind of picture"
          value={settings.kind}
          chips={[
            { value: 'auto', label: 'Find out' },
            { value: 'photo', label: 'Photo' },
            { value: 'drawing', label: 'Drawing' },
            { value: 'flat', label: 'Flat art' },
          ]}
          onPick={(k) => set({ kind: k })}
          {...(work.choices && settings.kind === 'auto'
            ? { hint: `Taken for ${KINDS[work.choices.kind] ?? work.choices.kind}: ${work.choices.because}` }
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
            label="Tones of black or white fur"
            value={settings.tone ?? 'auto'}
            chips={[
              { value: 'auto', label: 'By the background' },
              { value: 'even', label: 'Drawn apart' },
              { value: 'keep', label: 'As they are' },
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
