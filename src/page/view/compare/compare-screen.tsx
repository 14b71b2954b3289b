// Fewer and more, beside each other: the same picture with other numbers of fabrics and pieces. First looks are there in a moment; the
// whole blocks take their place. The one that shows most for the fewest hours is framed.
import { useEffect, useRef, useState } from 'preact/hooks';
import type { Block } from '../../../block.ts';
import type { Work, WorkComparison } from '../../api.ts';
import { sayHours } from '../block/block-numbers.tsx';
import { BlockSmall } from '../block/block-small.tsx';
import { TickBox } from '../parts/tick-box.tsx';
import { attempt, take } from '../store/actions.ts';
import { workAddress } from '../store/address.ts';
import { server } from '../store/server.ts';
import { put, usePart } from '../store/state.ts';

const SHADES = [2, 3, 4, 5, 6, 7, 8] as const;
const PIECES = [20, 30, 40, 60, 80, 100, 120, 160] as const;
const MOST = 4;
/** some about a number, in their order */
const about = (all: readonly number[], middle: number): number[] =>
  [...all]
    .sort((a, b) => Math.abs(a - middle) - Math.abs(b - middle))
    .slice(0, 3)
    .sort((a, b) => a - b);

export function CompareScreen({ work }: { readonly work: Work }) {
  const result = usePart((s) => (s.comparison?.id === work.id ? s.comparison.result : undefined));
  const shown = work.settings.shades === 'auto' ? (work.choices?.shades ?? 5) : work.settings.shades;
  const [shades, setShades] = useState<readonly number[]>(about(SHADES, shown));
  const [pieces, setPieces] = useState<readonly number[]>(about(PIECES, work.settings.pieces));
  const [looks, setLooks] = useState<Readonly<Record<string, Block>>>({});
  const [busy, setBusy] = useState(false);
  const progress = usePart((s) => (s.progress?.id === work.id ? s.progress : undefined));
  const stop = useRef<AbortController | undefined>(undefined);
  useEffect(() => () => stop.current?.abort(), []);
  if (!work.picture)
    return <p class="pane">This project began with a block file, so there is no picture to try other counts with.</p>;
  const compare = async (e: Event): Promise<void> => {
    e.preventDefault();
    stop.current = new AbortController();
    const { signal } = stop.current;
    setBusy(true);
    setLooks({});
    put({ comparison: undefined });
    const firstLooks = async (): Promise<void> => {
      for (const p of pieces)
        for (const s of shades) {
          const block = await server.look(work.id, { shades: s, pieces: p }, signal);
          setLooks((before) => ({ ...before, [`${p} ${s}`]: block }));
        }
    };
    void firstLooks().catch(() => {});
    const done = await attempt('making the blocks', () => server.compare(work.id, { shades, pieces }, signal));
    setBusy(false);
    if (done) put({ comparison: { id: work.id, result: done } });
  };
  const ticks = (
    label: string,
    all: readonly number[],
    chosen: readonly number[],
    onChange: (list: readonly number[]) => void,
  ) => (
    <fieldset class="counts">
      <legend>{label}</legend>
      {all.map((n) => (
        <TickBox
          key={n}
          checked={chosen.includes(n)}
          disabled={busy || (!chosen.includes(n) && chosen.length >= MOST)}
          onTick={(on) => onChange(all.filter((k) => (k === n ? on : chosen.includes(k))))}
        >
          {n}
        </TickBox>
      ))}
    </fieldset>
  );
  return (
    <section class="pane compare" aria-labelledby="compare-title">
      <h2 id="compare-title">Compare piece and fabric counts</h2>
      <form class="compare-form" onSubmit={(e) => void compare(e)}>
        {ticks('Fabrics', SHADES, shades, setShades)}
        {ticks('Pieces', PIECES, pieces, setPieces)}
        {busy ? (
          <button type="button" onClick={() => stop.current?.abort()}>
            Stop
          </button>
        ) : (
          <button type="submit" class="main-button" disabled={!shades.length || !pieces.length}>
            Compare
          </button>
        )}
      </form>
      <p role="status" class="hint">
        {busy
          ? `First looks now; the whole blocks take a minute or two.${progress ? ` ${progress.stage}, ${Math.round(progress.share * 100)} %` : ''}`
          : result
            ? `Recommended: ${result.recommended.because.replace(/\.?$/, '.')} Press the one you like.`
            : 'Press the block that you like best; the others cost nothing.'}
      </p>
      {result ? (
        <Grid work={work} result={result} />
      ) : (
        busy && <FirstLooks shades={shades} pieces={pieces} looks={looks} />
      )}
    </section>
  );
}

function FirstLooks(props: {
  readonly shades: readonly number[];
  readonly pieces: readonly number[];
  readonly looks: Readonly<Record<string, Block>>;
}) {
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls must be reached by keyboard
    <section class="grid-room" tabIndex={0} aria-label="First looks">
      <table class="compare-grid">
        <thead>
          <tr>
            <td />
            {props.shades.map((n) => (
              <th key={n} scope="col">
                {n} fabrics
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {props.pieces.map((p) => (
            <tr key={p}>
              <th scope="row">{p} pieces</th>
              {props.shades.map((s) => {
                const block = props.looks[`${p} ${s}`];
                return (
                  <td key={s}>
                    <div class="cell first-look">
                      {block ? <BlockSmall block={block} /> : <span class="block-wait" />}
                    </div>
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
                        take(cell.settings, cell.block);
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
