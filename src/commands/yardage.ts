// Finished blocks -> what to cut and what to buy: the plan, and where they are asked for its pages and tables.
import type { Block } from '../block.ts';
import type { Yardage } from '../data.ts';
import { patchesCsv, shoppingCsv, stripsCsv } from '../fabric/csv.ts';
import { planYardage, type YardageOptions } from '../fabric/plan-yardage.ts';
import type { Settings } from '../settings/settings.ts';
import type { System } from '../units.ts';
import type { Io } from './io.ts';

export const TABLES = ['patches', 'strips', 'shopping'] as const;
export type Table = (typeof TABLES)[number];

/** In the order in which they are written; by what follows the name that the person gave: "pepper.yardage.pdf". */
export const YARDAGE_FILES = {
  plan: 'yardage.pdf',
  patches: 'patches.csv',
  strips: 'strips.csv',
  shopping: 'shopping.csv',
} as const;
export type YardageFile = keyof typeof YARDAGE_FILES;

export interface YardageRequest {
  readonly options: YardageOptions;
  /** where the plan is wanted as pages and tables */
  readonly pages?: Pick<Settings, 'name' | 'units' | 'paper' | 'designer'>;
}

export interface YardageOutput {
  readonly plan: Yardage;
  /** none where no pages were asked for */
  readonly files: Partial<Record<YardageFile, Uint8Array>>;
}

export async function makeYardage(
  { options, pages }: YardageRequest,
  blocks: readonly Block[],
  { progress }: Io,
): Promise<YardageOutput> {
  const plan = planYardage(blocks, options);
  if (!pages) return { plan, files: {} };
  progress.stage('setting the pages');
  // fonts and PDF are read only where pages are asked for
  const { writeYardage } = await import('../packet/yardage.ts');
  const { name: title, units: system, paper, designer } = pages;
  const pdf = await writeYardage(plan, { title, system, paper, ...(designer && { designer }) });
  const table = (t: Table): Uint8Array => new TextEncoder().encode(tableOf(plan, t, system));
  const tables = { patches: table('patches'), strips: table('strips'), shopping: table('shopping') };
  return { plan, files: { plan: pdf, ...tables } };
}

/** One table as CSV. */
export function tableOf({ shopping, quilt }: Yardage, table: Table, system: System): string {
  if (table === 'patches') return patchesCsv(shopping, system);
  return table === 'strips' ? stripsCsv(shopping, system) : shoppingCsv(shopping, system, quilt);
}
