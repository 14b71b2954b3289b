// What people are used to where the program runs: their paper and their units.
import type { Level } from './levels.ts';
import type { Settings } from './settings/settings.ts';
import { type Mm, mm, type System } from './units.ts';

const locale = (): string =>
  process.env.LC_ALL ?? process.env.LC_PAPER ?? process.env.LANG ?? Intl.DateTimeFormat().resolvedOptions().locale;

/** Where people measure in inches and print on Letter. */
const isAmerican = (): boolean => /[-_](US|CA|MX|PH)\b/.test(locale());

/** As it was asked for; else the unit of a size that was given; else what the locale is used to. */
export function systemOf(given?: System, size = ''): System {
  if (given) return given;
  if (/(in|inch|inches|"|″)\s*$/i.test(size)) return 'inch';
  if (/[cm]m\s*$/i.test(size)) return 'metric';
  return isAmerican() ? 'inch' : 'metric';
}

/** Who measures in centimetres thinks in whole ones: a block of 30 cm and an allowance of 6 mm, not of 12 in and 1/4 in. */
const METRIC_SIZE: Record<Level, Mm> = { beginner: mm(300), intermediate: mm(300), advanced: mm(380) };
const METRIC_ALLOWANCE = mm(6);

/** Paper and units where nothing was said about them; for metric readers size and allowance too. */
export function localSettings(
  units?: System,
  size?: string,
  level: Level = 'intermediate',
): Pick<Settings, 'paper' | 'units'> & Partial<Pick<Settings, 'size' | 'allowance'>> {
  const system = systemOf(units, size);
  const side = METRIC_SIZE[level];
  return {
    paper: isAmerican() ? 'letter' : 'a4',
    units: system,
    ...(system === 'metric' && { size: [side, side] as const, allowance: METRIC_ALLOWANCE }),
  };
}
