/** What changes in texts, line by line, as plain data. Lines are raw: each drawing escapes them its own way. */

export interface FileDifference {
  readonly name: string;
  readonly hunks: readonly Hunk[];
}

export interface Hunk {
  /** First line of the old text that is shown, from 1; the line before where none is. */
  readonly oldStart: number;
  readonly newStart: number;
  readonly lines: readonly HunkLine[];
}

export interface HunkLine {
  readonly mark: ' ' | '-' | '+';
  /** Without its line end. */
  readonly text: string;
  /** The last line of a text that has no line end. */
  readonly open?: true;
}
