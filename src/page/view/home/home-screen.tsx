// The first screen: begin with a picture, or go on with what was begun.
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
  const kept = works?.filter((w) => !w.away) ?? [];
  const away = works?.filter((w) => w.away) ?? [];
  return (
    <main id="main" class="home" tabIndex={-1}>
      <h1>From a picture to a block you can sew</h1>
      <p class="lead">
        Straight seams only, every piece in an order that works, templates at true size. Pictures stay on this computer.
      </p>
      <PictureDrop />
      <RefusalNote />
      {kept.length > 0 && (
        <section aria-labelledby="kept-title">
          <div class="section-head">
            <h2 id="kept-title">Your works</h2>
            {kept.length > 1 && (
              <button
                type="button"
                aria-expanded={gathered !== undefined}
                onClick={() => put({ gathered: gathered ? undefined : [] })}
              >
                Sew several from the same fabrics
              </button>
            )}
          </div>
          {gathered && <MakeSeries works={kept} gathered={gathered} />}
          <ul class="cards">
            {kept.map((w) => (
              <WorkCard key={w.id} work={w} />
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
      {away.length > 0 && (
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
