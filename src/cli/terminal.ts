/** What the terminal can show. */
import type { Terminal } from '../edge/terminal.js';

/** Columns to wrap at when nothing says how wide the output is. */
const PLAIN_WIDTH = 100;

export type ColourChoice = 'auto' | 'always' | 'never';

/** Colour on a terminal only, never in a file, and never when NO_COLOR is set to anything (no-color.org). */
export function wantsColour(choice: ColourChoice, { stdout, env }: Terminal, toFile = false): boolean {
  if (choice !== 'auto') return choice === 'always';
  const { NO_COLOR: off, TERM: kind } = env;
  return !toFile && stdout.isTTY && (off === undefined || off === '') && kind !== 'dumb';
}

/** The stated width, else the terminal's, else a fixed one; at least 40. */
export function widthOf(stated: number | undefined, { stdout }: Terminal): number {
  return Math.max(40, stated ?? stdout.columns ?? PLAIN_WIDTH);
}
