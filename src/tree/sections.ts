// How large a section may be, shared by the fit and by the numbering.

export interface SectionLimits {
  /** most pieces a section may have */
  readonly mostPieces: number;
  /** printable width and height in mm that a section with its allowance must fit, turned any way */
  readonly paper: readonly [number, number];
  /** mm outside the section on every side */
  readonly allowance: number;
}
