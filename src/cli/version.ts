// The program's version, as its package says it; bundled with the program.
import manifest from '../../package.json' with { type: 'json' };

export const VERSION: string = manifest.version;
