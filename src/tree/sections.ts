// The one rule of what may be sewn as a section, shared by the fit and by the numbering.

export interface SectionLimits {
  /** most pieces a section may have */
  readonly mostPieces: number;
  /** printable width and height in mm that a section with its allowance must fit, turned any way */
  readonly paper: readonly [number, number];
  /** mm outside the section on every side */
  readonly allowance: number;
}

/** A subtree is a section where every cut takes off one piece: one side of the top cut is a single piece, the other a
 *  section, and all of it is within the limits. A side says how many pieces it has and whether it is a section. */
export function joinsToSection(
  leftPieces: number,
  leftIsSection: boolean,
  rightPieces: number,
  rightIsSection: boolean,
  mostPieces: number,
): boolean {
  if (leftPieces + rightPieces > mostPieces) return false;
  return (leftPieces === 1 && rightIsSection) || (rightPieces === 1 && leftIsSection);
}
