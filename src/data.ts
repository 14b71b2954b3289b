// The plain data that one stage hands to the next. Types only: stages do not know one another, they know these.
// (The finished Block has its own file, block.ts.) Everything here can be written as JSON or PNG and looked at.
// (The finished Block has its own file, block.ts.) Everything here can be written as JSON or PNG and looked at. What they are stands
// in data/, in the order of the data.
export type { BlockChange } from './data/block-change.ts';
export type { Cell, ClassPlan, Patch, Shopping, Skill, Strip, Ticket, Work } from './data/cutting.ts';
export type { EarShape, EarsOnBlock, EyePart, FaceOnBlock, FacePart, FaceShape, Figure, Show } from './data/figure.ts';
export type { Fault, Outlines, Partition, Verdict } from './data/partition.ts';
export type { Picture } from './data/picture.ts';
export type { Panels, QuiltCloth, QuiltCut, QuiltPlan, Yardage } from './data/quilt.ts';
export type { Feature, Landmark, Shading } from './data/shading.ts';

/** Says how far a long step is, 0..1, and throws when the work was cancelled. */
export type Report = (done: number) => void;
