// A series: its blocks as a gallery, the fabrics they share, the files for all of them.
import { useEffect } from 'preact/hooks';
import { WorkCard } from '../home/work-card.tsx';
import { RefusalNote } from '../parts/refusal.tsx';
import { Snip } from '../parts/snip.tsx';
import { loadHome } from '../store/actions.ts';
import { at } from '../store/server.ts';
import { usePart } from '../store/state.ts';

export function SeriesScreen({ id }: { readonly id: string }) {
  const series = usePart((s) => s.series?.find((x) => x.id === id));
  const works = usePart((s) => s.works);
  const progress = usePart((s) => (s.progress?.id === id ? s.progress : undefined));
  useEffect(() => void loadHome(), [id]);
  return (
    <main id="main" class="series" tabIndex={-1}>
      <h1>{series?.name ?? 'Series'}</h1>
      <RefusalNote />
      <p role="status">
        {series === undefined
          ? 'Opening the series …'
          : series.stage === 'working'
            ? `The blocks are being made${progress ? `: ${progress.stage}, ${Math.round(progress.share * 100)} %` : ' …'}`
            : series.stage === 'failed'
              ? (series.failed ?? 'The series could not be made.')
              : `${series.works.length} blocks from ${series.fabrics.length} fabrics. Open one to print its templates or to change it.`}
      </p>
      {series && (
        <>
          {series.stage === 'done' && <BeforeAndAfter works={series.works} />}
          <ul class="cards">
            {series.works.map((w) => {
              const work = works?.find((x) => x.id === w);
              return work && <WorkCard key={w} work={work} />;
            })}
          </ul>
          {series.fabrics.length > 0 && (
            <section aria-labelledby="common-title">
              <h2 id="common-title">Fabrics they share</h2>
              <ul class="common-fabrics">
                {series.fabrics.map((f) => (
                  <li key={f.code}>
                    <Snip colour={f.colour} /> <span class="code">{f.code}</span> {f.name}
                  </li>
                ))}
              </ul>
            </section>
          )}
          {series.notes.length > 0 && (
            <section aria-labelledby="series-notes" class="notes">
              <h2 id="series-notes">Look out for</h2>
              <ul>
                {series.notes.map((n) => (
                  <li key={n}>{n}</li>
                ))}
              </ul>
            </section>
          )}
          {series.files.length > 0 && (
            <section aria-labelledby="series-files">
              <h2 id="series-files">For all of them</h2>
              <a class="button main-button" href={at.packets(series.works)} download>
                All packets (ZIP)
              </a>
              <ul class="plain-list">
                {series.files.map((f) => (
                  <li key={f.name}>
                    <a href={at.seriesFile(id, f.name)} download>
                      {f.title}
                    </a>
                  </li>
                ))}
              </ul>
            </section>
          )}
        </>
      )}
    </main>
  );
}

/** Each block as it was by itself, and as it is in the common fabrics: what became duller is seen at once. */
function BeforeAndAfter({ works }: { readonly works: readonly string[] }) {
  const known = usePart((s) => s.works);
  return (
    <details class="before-after">
      <summary>Before and after</summary>
      <ul>
        {works.map((id) => {
          const work = known?.find((w) => w.id === id);
          const name = work?.name ?? '';
          return (
            <li key={id}>
              <img src={at.faceBefore(id)} alt={`${name} before`} loading="lazy" />
              <img src={at.face(id, work?.changed ?? '')} alt={`${name} in the common fabrics`} loading="lazy" />
            </li>
          );
        })}
      </ul>
      <p class="hint">Too dull? Undo in the block, then make the series again with more fabrics, or keep a color.</p>
    </details>
  );
}
