// Under the block of a photo whose background is as it is: what most often makes a better block, at one press.
import type { Work } from '../../api.ts';
import { set, settingsNow } from '../store/actions.ts';
import { usePart } from '../store/state.ts';

export function AnimalOffer({ work }: { readonly work: Work }) {
  const wanted = usePart((s) => s.wanted);
  const { background, kind } = settingsNow(work, wanted);
  const photo = (kind === 'auto' ? work.choices?.kind : kind) === 'photo';
  const kept = background === 'keep' || (background === 'auto' && work.choices?.background === 'keep');
  if (!work.picture || !photo || !kept) return null;
  return (
    <p class="offer">
      Is the animal hard to see?{' '}
      <button type="button" onClick={() => set({ background: 'plain' })}>
        Use a plain background
      </button>
    </p>
  );
}
