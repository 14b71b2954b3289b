#!/usr/bin/env node
// The program: a thin shell over pipeline.ts.
import { callCommand } from './call-command.ts';
import { watchStreams } from './terminal.ts';

watchStreams();
const code = await callCommand(process.argv.slice(2));
if (code !== undefined) process.exitCode = code;
