#!/usr/bin/env node
import { processTerminal } from '../edge/terminal.js';
import { EXIT } from './exit.js';
import { withProgress } from '../edge/progress.js';
import { runProgram } from './program.js';

const onTerminal = (process.stderr as { readonly isTTY?: boolean }).isTTY === true && process.env['TERM'] !== 'dumb';
// At the same place of the joined program, as both are entries of it.
const line = onTerminal ? new URL('../edge/progress-line.js', import.meta.url) : undefined;
const { terminal, end } = withProgress(processTerminal(), line);

// A terminal that goes away; what goes to a file or a pipe is written at once, and needs no word here.
process.stdout.on('error', (error: NodeJS.ErrnoException) => {
  if (error.code === 'EPIPE') process.exit(process.exitCode ?? EXIT.clean);
  terminal.stderr.write(`rigproof: standard output can't be written (${error.message})\n`);
  process.exit(EXIT.failed);
});

process.exitCode = await runProgram(process.argv.slice(2), terminal);
end();
