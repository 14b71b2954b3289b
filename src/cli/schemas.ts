// Every JSON Schema that is published, by what it describes: printed by `seamwright schema`, and files of the package.

export const SCHEMAS = {
  block: async () => (await import('../block.ts')).blockJsonSchema(),
  settings: async () => (await import('../settings/settings.ts')).settingsJsonSchema(),
  series: async () => (await import('../series/settings.ts')).seriesJsonSchema(),
} as const;

export type SchemaName = keyof typeof SCHEMAS;
