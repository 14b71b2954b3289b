// The first screen: begin with a picture, or go on with what was begun.

import { ShelfSection } from '../fabric/shelf.tsx';
import { RefusalNote } from '../parts/refusal.tsx';
import { seriesAddress } from '../store/address.ts';
import { put, usePart } from '../store/state.ts';
import { MakeSeries } from './make-series.tsx';
import { PictureDrop } from './picture-drop.tsx';
import { WorkCard } from './work-card.tsx';

export function HomeScreen() {
  const works = usePart((s) => s.works);
  const series = usePart((s) => s.series);
  const gathered = usePart((s) => s.gathered);
  const reads = usePart((s) => s.here?.reads === true);
  const kept = works?.filter((w) => !w.away) ?? [];
  const away = works?.filter((w) => w.away) ?? [];
  return (
    <main id="main" class="home" tabIndex={-1}>
      {reads ? (
        <h1>Which block are you sewing?</h1>
      ) : (
        <>
          <h1>From a picture to a block you can sew</h1>
          <p class="lead">
            Straight seams only, every piece in an order that works, templates at true size. Your pictures stay on this
            computer.
          </p>
          <PictureDrop />
        </>
      )}
      <RefusalNote />
      {kept.length > 0 && (
        <section aria-labelledby="kept-title">
          <div class="section-head">
            <h2 id="kept-title">Your projects</h2>
            {kept.length > 1 && !reads && (
              <button
                type="button"
                aria-expanded={gathered !== undefined}
                onClick={() => put({ gathered: gathered ? undefined : [] })}
              >
                Make a series, a class or a quilt
              </button>
            )}
          </div>
          {gathered && <MakeSeries works={kept} gathered={gathered} />}
          <ul class={gathered ? 'cards gathering' : 'cards'}>
            {kept.map((w) => (
              <WorkCard key={w.id} work={w} {...(gathered ? { tick: gathered.includes(w.id) } : {})} />
            ))}
          </ul>
        </section>
      )}
      {series !== undefined && series.length > 0 && (
        <section aria-labelledby="series-title">
          <h2 id="series-title">Series</h2>
          <ul class="plain-list">
            {series.map((s) => (
              <li key={s.id}>
                <a href={seriesAddress(s.id)}>{s.name}</a>, {s.works.length} blocks
              </li>
            ))}
          </ul>
        </section>
      )}
      {!reads && <ShelfSection />}
      {away.length > 0 && !reads && (
        <details class="drawer">
          <summary>
            <h2>Put away ({away.length})</h2>
          </summary>
          <ul class="cards">
            {away.map((w) => (
              <WorkCard key={w.id} work={w} />
            ))}
          </ul>
        </details>
      )}
    </main>
  );
}
