// The one question "what should the block show?" and the two settings that answer it.
import type { Box, Settings, WorkFigure } from '../../api.ts';

export type Shown = Settings['show'] | 'own';

export const shownBy = ({ show, crop }: Pick<Settings, 'show' | 'crop'>): Shown =>
  typeof crop !== 'string' ? 'own' : crop === 'middle' ? 'picture' : show;

export const toShow = (show: Settings['show']): Partial<Settings> => ({
  show,
  crop: show === 'picture' ? 'middle' : 'auto',
});

/** A crop of one's own. What was found to be shown goes on being meant, so that a plain background does not go when the frame is moved. */
export const toCrop = (crop: Box, { show }: Pick<Settings, 'show'>, figure?: WorkFigure): Partial<Settings> =>
  show === 'auto' && figure && figure.show !== 'picture' ? { crop, show: figure.show } : { crop };
