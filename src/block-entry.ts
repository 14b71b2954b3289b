// The entry `seamwright/block`: what can be done with blocks that are there already. Without native parts and without files, so that it
// runs in a browser too, where `useFonts` comes first; in Node the fonts are found.
export {
  type Block,
  blockJsonSchema,
  type Fabric,
  type Join,
  type Mark,
  type Piece,
  parseBlock,
  readBlock,
  type Section,
  writeBlock,
} from './block.ts';
export { type CheckOptions, checkBlock } from './check/check-block.ts';
export type { BlockChange, Fault, Shopping, Verdict, Yardage } from './data.ts';
export type { Drawing } from './drawing/drawing.ts';
export { type FontBytes, useFonts } from './drawing/fonts.ts';
export type { Paper } from './drawing/paper.ts';
export { writeSvg } from './drawing/svg.ts';
export type { FabricOptions } from './fabric/options.ts';
export { planYardage, type YardageOptions } from './fabric/plan-yardage.ts';
export { LEVEL_DEFAULTS, LEVELS, type Level } from './levels.ts';
export { applyChange, changeLimits, findVoid, nextEdition, type Void } from './pipeline/change.ts';
export { type Problem, UserError } from './problems/problem.ts';
export type { ChangeLimits } from './section/change-block.ts';
export { completeSettings, defaultSettings, type Settings, settingsJsonSchema } from './settings/settings.ts';
export { layOutTemplates, type TemplateSheetOptions, type TemplateSheets } from './template/lay-out.ts';
export { inches, type Mm, mm, type System } from './units.ts';
