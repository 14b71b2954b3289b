// The block in small, at the edge of a narrow window while the block itself is out of sight: so that a hand on the sliders sees
// what it does.
import { useEffect, useState } from 'preact/hooks';
import type { Work } from '../../api.ts';
import { BlockSmall } from './block-small.tsx';

export function BlockInSight({ work }: { readonly work: Work }) {
  const [away, setAway] = useState(false);
  const { block } = work;
  useEffect(() => {
    const pane = document.querySelector('.block-room');
    if (!pane) return;
    const watch = new IntersectionObserver((seen) => {
      const last = seen.at(-1)!;
      // below the window it is on its way to be seen
      setAway(!last.isIntersecting && last.boundingClientRect.top < 0);
    });
    watch.observe(pane);
    return () => watch.disconnect();
  }, [block === undefined]);
  if (!block || !away) return null;
  return (
    <div class="block-in-sight" aria-hidden="true">
      <BlockSmall block={block} />
      <span>{work.stage === 'waiting' || work.stage === 'coarse' ? 'being worked out' : 'ready'}</span>
    </div>
  );
}
