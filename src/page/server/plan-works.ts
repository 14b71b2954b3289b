// A class or a quilt of several works, as `seamwright yardage` plans it: in words for the page, or as its pages.
import type { Block } from '../../block.ts';
import type { Yardage } from '../../data.ts';
import { planYardage, type YardageOptions } from '../../fabric/plan-yardage.ts';
import { writeYardage } from '../../packet/yardage.ts';
import { clothOf } from '../../pipeline/print.ts';
import type { Progress } from '../../pipeline/work.ts';
import type { Settings } from '../../settings/settings.ts';
import { formatSize } from '../../units.ts';
import type { Plan, PlanAsked } from '../api.ts';

export interface ToPlanWorks {
  readonly blocks: readonly Block[];
  readonly settings: Settings;
  readonly asked: PlanAsked;
}

export function planWorks({ blocks, settings, asked }: ToPlanWorks, progress: Progress): Plan {
  progress.stage('planning the fabric');
  const { units: system } = settings;
  const plan = yardageOf(blocks, settings, asked);
  const { shopping, quilt } = plan;
  return {
    ...(quilt && {
      size: formatSize(quilt.size, system),
      batting: formatSize([quilt.batting.width, quilt.batting.height], system),
    }),
    blocks: plan.blocks.reduce((n, b) => n + b.copies, 0) * (plan.class?.packets ?? 1),
    buy: shopping.buy ?? '',
    fabrics: shopping.fabrics.map(({ id, buy }) => {
      const own = blocks.flatMap((b) => b.fabrics).find((f) => f.id === id || f.code === id);
      return { code: own?.code ?? id, name: own?.name ?? id, colour: own?.colour ?? '#808080', buy };
    }),
    cloths: quilt?.cloths.map(({ what, buy }) => ({ what, buy })) ?? [],
    hours: plan.blocks.reduce((t, b) => t + b.copies * b.work.hours[settings.level], 0),
    notes: shopping.notes ?? [],
  };
}

export function planPages({ blocks, settings, asked }: ToPlanWorks, progress: Progress): Promise<Uint8Array> {
  progress.stage('drawing the pages');
  const { units: system, paper, designer } = settings;
  return writeYardage(yardageOf(blocks, settings, asked), {
    ...{ title: asked.name, system, paper },
    ...(designer && { designer }),
  });
}

function yardageOf(blocks: readonly Block[], settings: Settings, { class: people, quilt }: PlanAsked): Yardage {
  const upright = blocks.flatMap((b) => b.fabrics.filter((f) => f.print).map((f) => f.code));
  const cloth = { ...clothOf(blocks[0]!, settings), upright };
  const options: YardageOptions = {
    cloth,
    ...(people && { class: people }),
    ...(quilt && { quilt: quiltOf(quilt) }),
  };
  return planYardage(blocks, options);
}

function quiltOf({
  binding,
  overhang,
  ...rest
}: NonNullable<PlanAsked['quilt']>): NonNullable<YardageOptions['quilt']> {
  return { ...rest, ...(binding > 0 && { binding: { strip: binding } }), backing: { overhang } };
}
