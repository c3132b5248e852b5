#!/usr/bin/env node
import { processTerminal } from '../edge/terminal.js';
import { EXIT } from './exit.js';
import { runProgram } from './program.js';

// A reader that stops early (`rigproof lint plan.yaml | head`) is not a failure.
process.stdout.on('error', (error: NodeJS.ErrnoException) => {
  if (error.code === 'EPIPE') process.exit(process.exitCode ?? EXIT.clean);
  throw error;
});

process.exitCode = await runProgram(process.argv.slice(2), processTerminal());
