// A block -> what to buy, what to cut, patch by patch, in words: the same plan as in its packet.
import type { Shopping } from '../../data.ts';
import { planFabric } from '../../fabric/plan-fabric.ts';
import { clothOf } from '../../pipeline/print.ts';
import type { Progress } from '../../pipeline/work.ts';
import { formatLength, formatSize, type System } from '../../units.ts';
import type { FabricList } from '../api.ts';
import type { ToPlan } from './jobs.ts';

export async function listFabric({ block, settings }: ToPlan, progress: Progress): Promise<FabricList> {
  progress.stage('planning the cloth');
  const { units: system } = settings;
  const plan = planFabric([{ block }], clothOf(block, settings));
  return {
    buy: plan.buy ?? '',
    notes: plan.notes ?? [],
    fabrics: block.fabrics.flatMap((f) => {
      const own = plan.fabrics.find((p) => p.id === f.id || p.id === f.code);
      if (!own) return [];
      const { id, code, name, colour } = f;
      const patches = plan.patches.filter((p) => p.fabric === own.id);
      return [
        {
          ...{ id, code, name, colour, buy: own.buy },
          strips: stripLines(own.strips, system),
          patches: patches.map((p) => `${p.section}${p.piece}: ${formatSize([p.width, p.length], system)}`),
        },
      ];
    }),
  };
}

/** Strips of one width in a line: "2 strips 2 1/4 in wide, 31 in". */
function stripLines(strips: Shopping['fabrics'][number]['strips'], system: System): string[] {
  const widths = [...new Set(strips.map((s) => s.width))].sort((a, b) => b - a);
  return widths.map((width) => {
    const own = strips.filter((s) => s.width === width);
    const length = own.reduce((sum, s) => sum + s.length, 0);
    return `${own.length} ${own.length === 1 ? 'strip' : 'strips'} ${formatLength(width, system)} wide, ${formatLength(length, system)}${own.length > 1 ? ' together' : ''}`;
  });
}
