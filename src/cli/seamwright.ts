#!/usr/bin/env node
// The program: one call of the command line.
// Maps are asked for before the code that they are of is loaded: stacks then name the files and lines of the sources.
if (process.env.SEAMWRIGHT_TRACE) process.setSourceMapsEnabled(true);
const { callCommand } = await import('./call-command.ts');
const { watchStreams } = await import('./terminal.ts');

watchStreams();
const code = await callCommand(process.argv.slice(2));
if (code !== undefined) process.exitCode = code;
