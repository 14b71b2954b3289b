// Fabric and cutting: what to buy, what to cut, fabric by fabric, always for the block as it is now.

import type { FabricList, Work } from '../../api.ts';
import { BlockSmall } from '../block/block-small.tsx';
import { Snip } from '../parts/snip.tsx';
import { wholeMeasures } from '../parts/whole-measures.ts';
import { workAddress } from '../store/address.ts';
import { useFetched } from '../store/fetched.ts';
import { at, server } from '../store/server.ts';
import { usePart } from '../store/state.ts';

export function FabricScreen({ work }: { readonly work: Work }) {
  const reachable = usePart((s) => s.reachable);
  const list = useFetched(`${work.id} ${work.revision} ${reachable}`, work.block !== undefined, () =>
    server.fabric(work.id),
  );
  return (
    <section class="pane fabric-screen" aria-labelledby="fabric-title">
      <div class="fabric-head">
        {work.block && <BlockSmall block={work.block} />}
        <div>
          <h2 id="fabric-title">Fabric and cutting</h2>
          {list.value && (
            <p class="buy">
              To buy: <strong>{wholeMeasures(list.value.buy)}</strong>
            </p>
          )}
          <p role="status">
            {list.fault ??
              (list.value === undefined || list.old ? 'Working out what to cut …' : 'For the block as it is now.')}
          </p>
          {work.block && (
            <a class="button" href={workAddress(work.id, 'hand')}>
              Use my own fabrics
            </a>
          )}{' '}
          <a class="button" href={at.file(work.id, 'fabric.csv')} download>
            Save this list as a table (CSV)
          </a>
        </div>
      </div>
      {list.value?.notes.map((n) => (
        <p class="hint" key={n}>
          {n}
        </p>
      ))}
      {list.value && (
        <ul class="fabric-list">
          {list.value.fabrics.map((f) => (
            <FabricCard key={f.id} work={work} fabric={f} />
          ))}
        </ul>
      )}
    </section>
  );
}

function FabricCard({ work, fabric: f }: { readonly work: Work; readonly fabric: FabricList['fabrics'][number] }) {
  const cloth = work.shown[f.id];
  return (
    <li class="fabric-card">
      <h3>
        <Snip colour={f.colour} cloth={cloth && at.cloth(work.id, cloth)} />
        <span>
          <span class="code">{f.code}</span> {f.name}
        </span>
      </h3>
      <p class="buy">{wholeMeasures(f.buy)}</p>
      <ul class="strips">
        {f.strips.map((s) => (
          <li key={s}>{wholeMeasures(s)}</li>
        ))}
      </ul>
      <details>
        <summary>
          {f.patches.length} {f.patches.length === 1 ? 'patch' : 'patches'}
        </summary>
        <ul class="patches">
          {f.patches.map((p) => (
            <li key={p}>{wholeMeasures(p)}</li>
          ))}
        </ul>
      </details>
    </li>
  );
}
