/** What happens when rigs meet, for a person: how they meet, what clashes, what to do about it. */
import { groupBy } from '../../collections/group-by.js';
import { byCodeUnit } from '../../collections/order.js';
import { findingText, type Finding } from '../../lint/finding.js';
import type { LintResult } from '../../lint/result.js';
import { withSides } from '../../merge/judge.js';
import type { MergeResult, Repaired } from '../../merge/merge.js';
import type { Block, Page, Part, Row } from '../../page/page.js';
import { name, prose, say, sayNames, type Phrase } from '../../page/phrase.js';
import { block, headed, row, rowsPart, toned } from '../../page/rows.js';
import { agree, counted } from '../../words/counts.js';
import { cautionRow } from '../caution.js';
import { sheetBlocks } from '../change/sheet-page.js';
import { lintPage } from '../lint/page.js';
import { problemBlocks } from '../problems.js';
import { tally } from '../tally.js';
import { clockRows, cutShort, meetingRows } from './meeting.js';

const LABEL_ROOM = 12;

/** Without a repair every finding in full; with one, the clashes by kind, the change sheet, and what is left. */
export function mergePage(result: MergeResult): Page {
  const { joined, repaired, sides } = result;
  const caution = block(...rows(cautionRow()));
  if (joined === undefined) return { blocks: [...problemBlocks(result.problems), ...caution] };
  const top = meetingBlock(result);
  if (repaired === undefined) {
    const named = { ...joined, findings: withSides(joined.findings, sides) };
    return { blocks: [top, ...lintPage(named, result.own).blocks] };
  }
  return { blocks: [top, clashBlock(joined), ...repairBlocks(result, repaired), ...caution] };
}

function rows(list: readonly Row[]): readonly Part[] {
  return rowsPart(LABEL_ROOM, list);
}

function meetingBlock(result: MergeResult): Block {
  const { sides, own, meeting } = result;
  const left = `${tally(own)} that a rig has alone too; --own shows them, \`rigproof lint\` on each rig too`;
  return headed(
    `JOINED: ${sides.map((side) => side.name).join(', ')}`,
    ...rows([
      ...joinedBy(result),
      ...(meeting === undefined ? [] : meetingRows(meeting)),
      ...(own.length === 0 ? [] : row('Left out', prose(left))),
    ]),
  );
}

function joinedBy({ joining, supposed }: MergeResult): readonly Row[] {
  if (supposed.length > 0) return row('Supposed', prose(SUPPOSED), ...supposed.map(prose));
  if (joining.length > 0) return row('Joined by', sayNames(joining.map((document) => document.name)));
  return row('Joined by', prose(NOTHING_JOINS));
}

const SUPPOSED =
  'nobody says how the rigs are joined, so what is alike is taken to meet; a join file (--join) says better:';
const NOTHING_JOINS = 'nothing: no network of one rig is like one of another, and no join file says which meet';

/** Findings by rule, most first: the findings themselves are in the report without a repair. */
function clashBlock({ findings, rulesRun }: LintResult): Block {
  if (findings.length === 0) return headed('NO CLASHES');
  const byRule = [...groupBy(findings, ({ rule }) => rule)];
  const summaries = new Map(rulesRun.map(({ id, summary }) => [id, summary]));
  const sorted = byRule.toSorted(([a, x], [b, y]) => y.length - x.length || byCodeUnit(a, b));
  return headed(
    `CLASHES: ${tally(findings)}`,
    ...rows([
      ...sorted.flatMap(([rule, own]) =>
        toned('count', String(own.length), [say`${prose(summaries.get(rule) ?? '')} (${rule})`]),
      ),
      ...row('', prose('The report without --repair says each in full.')),
    ]),
  );
}

function repairBlocks({ sides }: MergeResult, repaired: Repaired): readonly Block[] {
  const { repair, left, comparison, meeting } = repaired;
  return [
    ...problemBlocks(repair.problems),
    headed(
      'PROPOSED NUMBERS',
      ...rows([
        ...row('Proof', prose(proofWords(repaired))),
        ...row('Touched', prose(touchedWords(repair.touched, repair.atLeast))),
        ...row('Settings', say`those of ${repair.counts} hold where the rigs are one`),
        ...row('Left alone', ...withheldWords(repair.withheld)),
        ...row('No room', ...cutShort(repair.stuck.map((one): Phrase => name(one)))),
        ...clockRows(meeting),
      ]),
    ),
    ...sheetBlocks(comparison),
    ...(left.length === 0 ? [] : [headed('LEFT FOR PEOPLE', ...rows(withSides(left, sides).flatMap(leftRows)))]),
  ];
}

function leftRows(finding: Finding): readonly Row[] {
  const { what, fix } = findingText(finding);
  return row(finding.severity.toUpperCase(), prose(what), prose(fix));
}

function proofWords({ repair, left, fresh }: Repaired): string {
  if (repair.problems.length > 0) return 'not every new number could be written; see above';
  if (left.length === 0) return 'with these numbers no finding is left';
  const ofThem = fresh.length === 0 ? '' : `, ${fresh.length} of them new`;
  return `with these numbers ${tally(left)} ${agree(left.length, 'is', 'are')} left${ofThem}: see below`;
}

/** Nothing where nothing was withheld. */
function withheldWords(withheld: Repaired['repair']['withheld']): readonly Phrase[] {
  return withheld.length === 0
    ? []
    : [prose(`${withheld.join(', ')}: new ones would make findings that are not there now`)];
}

function touchedWords(touched: number, atLeast: number): string {
  if (touched === 0) return 'no box has to give up a group or an address';
  const boxes = `${counted(touched, 'box')} ${agree(touched, 'gives', 'give')} up groups or addresses`;
  return touched === atLeast
    ? `${boxes}; fewer can't do`
    : `${boxes}; the least number that would do is at least ${atLeast}`;
}
