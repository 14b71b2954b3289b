// All settings, as the questions that a person asks in turn.

import { formatSize } from '../../../units.ts';
import type { Work } from '../../api.ts';
import { Question } from '../parts/question.tsx';
import { settingsNow } from '../store/actions.ts';
import { usePart } from '../store/state.ts';
import { HowBig } from './how-big.tsx';
import { HowFine } from './how-fine.tsx';
import { WhatToShow } from './what-to-show.tsx';
import { WhoseFabrics } from './whose-fabrics.tsx';

export function PictureQuestions({ work }: { readonly work: Work }) {
  const wanted = usePart((s) => s.wanted);
  const settings = settingsNow(work, wanted);
  const shades = settings.shades === 'auto' ? (work.choices?.shades ?? 'automatic') : settings.shades;
  if (!work.picture)
    return (
      <section class="questions" aria-label="Settings">
        <p class="hint">This project began with a block file, so there is no picture to fit it to again.</p>
        <Question asks="How big, on what paper?" answer={formatSize(settings.size, settings.units)}>
          <HowBig settings={settings} blockOnly />
        </Question>
      </section>
    );
  return (
    <section class="questions" aria-label="Settings">
      <Question asks="What should the block show?">
        <WhatToShow work={work} settings={settings} />
      </Question>
      <Question asks="How much detail?" answer={`${shades} fabrics, ${settings.pieces} pieces`}>
        <HowFine work={work} settings={settings} />
      </Question>
      <Question asks="How big, on what paper?" answer={formatSize(settings.size, settings.units)} open={false}>
        <HowBig settings={settings} />
      </Question>
      <Question
        asks="Whose fabrics?"
        answer={settings.cloths.length ? `${settings.cloths.length} of yours` : 'colors of the picture'}
        open={false}
      >
        <WhoseFabrics work={work} settings={settings} />
      </Question>
    </section>
  );
}
