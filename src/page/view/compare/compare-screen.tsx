// Side by side: the same picture with more and fewer fabrics and pieces; the one that shows most for the fewest hours is framed.
import { useEffect, useRef, useState } from 'preact/hooks';
import type { Work, WorkComparison } from '../../api.ts';
import { sayHours } from '../block/block-numbers.tsx';
import { BlockSmall } from '../block/block-small.tsx';
import { attempt, set } from '../store/actions.ts';
import { workAddress } from '../store/address.ts';
import { server } from '../store/server.ts';
import { put, usePart } from '../store/state.ts';

export function CompareScreen({ work }: { readonly work: Work }) {
  const result = usePart((s) => (s.comparison?.id === work.id ? s.comparison.result : undefined));
  const [shades, setShades] = useState('3, 4, 5, 6');
  const [pieces, setPieces] = useState('40, 60, 80, 120');
  const [busy, setBusy] = useState(false);
  const progress = usePart((s) => (s.progress?.id === work.id ? s.progress : undefined));
  const stop = useRef<AbortController | undefined>(undefined);
  useEffect(() => () => stop.current?.abort(), []);
  if (!work.picture)
    return (
      <p class="pane">This work began with a block file, so there is no picture to try with more and fewer pieces.</p>
    );
  const compare = async (e: Event): Promise<void> => {
    e.preventDefault();
    stop.current = new AbortController();
    const { signal } = stop.current;
    setBusy(true);
    const counts = { shades: numbersIn(shades), pieces: numbersIn(pieces) };
    const done = await attempt('trying them one by one', () => server.compare(work.id, counts, signal));
    setBusy(false);
    if (done) put({ comparison: { id: work.id, result: done } });
  };
  return (
    <section class="pane compare" aria-labelledby="compare-title">
      <h2 id="compare-title">Fewer and more, side by side</h2>
      <form class="field-row" onSubmit={(e) => void compare(e)}>
        <label class="field">
          <span>Fabrics</span>
          <input type="text" value={shades} inputMode="text" onInput={(e) => setShades(e.currentTarget.value)} />
        </label>
        <label class="field">
          <span>Pieces</span>
          <input type="text" value={pieces} inputMode="text" onInput={(e) => setPieces(e.currentTarget.value)} />
        </label>
        {busy ? (
          <button type="button" onClick={() => stop.current?.abort()}>
            Stop
          </button>
        ) : (
          <button type="submit" class="main-button">
            Try them
          </button>
        )}
      </form>
      <p role="status" class="hint">
        {busy
          ? `This takes a minute or two.${progress ? ` ${progress.stage}, ${Math.round(progress.share * 100)} %` : ''}`
          : result
            ? `Framed: ${result.recommended.because.replace(/\.?$/, '.')} Pick any of them with a click.`
            : 'Each number of fabrics is tried with each number of pieces. Pick the block that you like best; the others cost nothing.'}
      </p>
      {result && <Grid work={work} result={result} />}
    </section>
  );
}

const numbersIn = (text: string): number[] => [...text.matchAll(/\d+/g)].map(Number);

function Grid({ work, result }: { readonly work: Work; readonly result: WorkComparison }) {
  const { recommended } = result;
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls must be reached by keyboard
    <section class="grid-room" tabIndex={0} aria-label="Blocks side by side">
      <table class="compare-grid">
        <thead>
          <tr>
            <td />
            {result.shades.map((n) => (
              <th key={n} scope="col">
                {n} fabrics
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {result.cells.map((row, r) => (
            <tr key={result.pieces[r]}>
              <th scope="row">{result.pieces[r]} pieces</th>
              {row.map((cell, c) => {
                const best = recommended.row === r && recommended.column === c;
                return (
                  <td key={result.shades[c]}>
                    <button
                      type="button"
                      class={best ? 'cell best' : 'cell'}
                      onClick={() => {
                        set(cell.settings);
                        location.hash = workAddress(work.id);
                      }}
                    >
                      <BlockSmall block={cell.block} />
                      <span>
                        {best && <strong>Recommended. </strong>}
                        {cell.summary.pieces} pieces, {cell.summary.sections} sections, {sayHours(cell.summary.hours)}
                      </span>
                    </button>
                  </td>
                );
              })}
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}
