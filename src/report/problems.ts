/** Inputs that could not be read, which every report puts first. */
import type { Block, Page } from '../page/page.js';
import { place, prose } from '../page/phrase.js';
import { block, headed, inset, rowsPart, titled } from '../page/rows.js';
import type { Problem } from '../source/problem.js';
import { positionOf } from '../source/locate.js';

/** How much room the labels of most rows need. */
export const LABEL_ROOM = 10;

/** One block a problem under a heading; nothing when everything could be read. */
export function problemBlocks(problems: readonly Problem[]): readonly Block[] {
  if (problems.length === 0) return [];
  return [
    headed('INPUT THAT COULD NOT BE READ'),
    ...problems.flatMap(({ what, instead, at }) =>
      block(
        ...rowsPart(LABEL_ROOM, [
          ...titled('UNREAD', prose(what)),
          ...inset('Do', prose(instead)),
          ...inset('Where', place(at.file, positionOf(at))),
        ]),
      ),
    ),
  ];
}

/** For commands that have nothing else to say then. */
export function problemsPage(problems: readonly Problem[]): Page {
  return { blocks: problemBlocks(problems) };
}
