import type { Span } from '../source/text-document.js';
import { LineIndex } from '../source/line-index.js';
import { toLocation } from '../source/locate.js';
import type { Problem } from '../source/problem.js';

/** A file that is not what its name says has one cause and a thousand symptoms; nobody reads past the first few. */
const MOST_PROBLEMS = 10;

/** The problems of one file, at most one per place and ten in all. */
export interface ProblemList {
  readonly all: readonly Problem[];
  /** No further problem will be kept: readers may stop. */
  readonly full: boolean;
  add(span: Span, what: string, instead: string): void;
}

export function createProblemList(name: string, text: string): ProblemList {
  const all: Problem[] = [];
  const places = new Set<number>();
  let lines: LineIndex | undefined;
  return {
    all,
    get full() {
      return all.length >= MOST_PROBLEMS;
    },
    add(span, what, instead) {
      if (all.length >= MOST_PROBLEMS || places.has(span.start)) return;
      places.add(span.start);
      lines ??= new LineIndex(text);
      all.push({ at: toLocation(name, lines, span), what, instead });
    },
  };
}

/** Text of a file for a message: in backquotes, cut where it would drown the sentence. */
export function quote(text: string): string {
  return `\`${text.length > 60 ? `${text.slice(0, 60)}…` : text}\``;
}
