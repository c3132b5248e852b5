/** What the terminal can show. */

/** Columns to wrap at when nothing says how wide the output is. */
const PLAIN_WIDTH = 100;

export type ColourChoice = 'auto' | 'always' | 'never';

/** Colour on a terminal only, and never when NO_COLOR is set to anything (no-color.org). */
export function wantsColour(choice: ColourChoice, isTerminal: boolean): boolean {
  if (choice !== 'auto') return choice === 'always';
  const { NO_COLOR: off } = process.env;
  return isTerminal && (off === undefined || off === '') && process.env['TERM'] !== 'dumb';
}

/** The stated width, else the terminal's, else a fixed one; at least 40. */
export function widthOf(stated: number | undefined): number {
  const columns: number | undefined = process.stdout.isTTY ? process.stdout.columns : undefined;
  return Math.max(40, stated ?? columns ?? PLAIN_WIDTH);
}
