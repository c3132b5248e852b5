/** What happens when rigs meet, for a person: how they meet, what clashes, what to do about it. */
import { findingText, type Finding } from '../lint/finding.js';
import { withSides } from '../merge/judge.js';
import type { Meeting, OfRig } from '../merge/meeting.js';
import type { MergeResult, Repaired } from '../merge/merge.js';
import { heading, joinBlocks, problemBlocks, rowWriter, type Row } from './blocks.js';
import { prose, solid, type Piece } from './layout.js';
import { createPaint, type Paint } from './paint.js';
import { CAUTION, type ReportOptions } from './reporter.js';
import { say, sayAll, sayNames } from './say.js';
import { sheetBlocks } from './sheet-text.js';
import { reportText } from './text.js';
import { count, tally } from './words.js';

/** Column in which the text beside a label starts. */
const INDENT = 12;
const MOST_ROWS = 12;

/** Without a repair every finding in full; with one, the clashes by kind, the change sheet, and what is left. */
export function reportMergeText(result: MergeResult, options: ReportOptions): string {
  const paint = createPaint(options.colour);
  const row = rowWriter(options, paint, INDENT);
  const { joined, repaired } = result;
  if (joined === undefined)
    return joinBlocks([...problemBlocks(result.problems, paint, options), row('Caution', prose(CAUTION))]);
  const top = meetingBlock(result, row, paint, options);
  if (repaired === undefined) {
    const named = { ...joined, findings: withSides(joined.findings, result.sides) };
    return `${joinBlocks([top])}\n${reportText(named, options)}`;
  }
  return joinBlocks([
    top,
    clashBlock(joined.findings, joined.rulesRun, row, paint, options),
    ...repairBlocks(result, repaired, row, paint, options),
    row('Caution', prose(CAUTION)),
  ]);
}

function meetingBlock(result: MergeResult, row: Row, paint: Paint, options: ReportOptions): readonly string[] {
  const { sides, joining, supposed, own, meeting } = result;
  const names = sides.map(({ name }) => name);
  return [
    ...heading(`JOINED: ${names.join(', ')}`, paint, options),
    ...(supposed.length > 0
      ? rows(row, 'Supposed', [
          prose(
            'nobody says how the rigs are joined, so what is alike is taken to meet; a join file (--join) says better:',
          ),
          ...supposed.map(prose),
        ])
      : joining.length > 0
        ? row('Joined by', say`${sayNames(joining.map((document) => document.name))}`)
        : row(
            'Joined by',
            prose('nothing: no network of one rig is like one of another, and no join file says which meet'),
          )),
    ...(meeting === undefined ? [] : meetingRows(meeting, row)),
    ...(own.length === 0
      ? []
      : row(
          'Left out',
          prose(`${tally(own)} that a rig has alone too; --own shows them, \`rigproof lint\` on each rig too`),
        )),
  ];
}

function meetingRows({ clocks, timeApart, queriers, ranges }: Meeting, row: Row): readonly string[] {
  return [
    ...rows(
      row,
      'Clocks',
      clocks.map(({ domain, leaders, step }) => {
        const lead =
          leaders.length === 0
            ? say`domain ${String(domain)}: nobody leads`
            : say`domain ${String(domain)}: ${sayNames(leaders.map(nameOfRig))} ${leaders.length === 1 ? 'leads all' : 'lead, each its own part'}`;
        const steps = step.map(
          (one) =>
            say`${count(one.clocks, 'clock')} of ${one.rig} ${one.clocks === 1 ? 'steps' : 'step'} when the rigs are joined, off ${one.from}`,
        );
        return sayAll([lead, ...steps]);
      }),
    ),
    ...(timeApart.length === 0
      ? []
      : row(
          'Clocks',
          say`the rigs keep apart: ${sayNames(timeApart.map(({ rig, domains }) => `${rig} in ${domains.length === 1 ? 'domain' : 'domains'} ${domains.join(', ')}`))}; what passes between them slips unless both have a reference`,
        )),
    ...rows(
      row,
      'Queriers',
      capped(
        queriers.map(
          ({ where, winner, silent }) =>
            say`${prose(where)}: ${nameOfRig(winner)} queries, from ${winner.address}; ${sayNames(silent.map(nameOfRig))} ${silent.length === 1 ? 'falls' : 'fall'} silent and ${silent.length === 1 ? 'stands' : 'stand'} by`,
        ),
      ),
    ),
    ...rows(
      row,
      'Ranges',
      ranges.length === 0
        ? []
        : capped([
            prose('groups both houses hand out; agree who takes which before anything new is numbered:'),
            ...ranges.map(({ range, rigs }) => say`${range}, by ${sayNames(rigs)}`),
          ]),
    ),
  ];
}

function nameOfRig({ name, rig }: OfRig): string {
  return `${name} of ${rig}`;
}

/** Findings by rule, most first: the findings themselves are in the report without a repair. */
function clashBlock(
  findings: readonly Finding[],
  rules: readonly { readonly id: string; readonly summary: string }[],
  row: Row,
  paint: Paint,
  options: ReportOptions,
): readonly string[] {
  const byRule = new Map<string, Finding[]>();
  for (const finding of findings) {
    const list = byRule.get(finding.rule);
    if (list === undefined) byRule.set(finding.rule, [finding]);
    else list.push(finding);
  }
  const summaries = new Map(rules.map(({ id, summary }) => [id, summary]));
  const sorted = [...byRule].sort(([a, x], [b, y]) => y.length - x.length || (a < b ? -1 : 1));
  return [
    ...heading(findings.length === 0 ? 'NO CLASHES' : `CLASHES: ${tally(findings)}`, paint, options),
    ...sorted.flatMap(([rule, own]) =>
      row(String(own.length).padStart(6), say`${prose(summaries.get(rule) ?? '')} (${rule})`),
    ),
    ...(findings.length === 0
      ? prose('').map(() => '')
      : row('', prose('The report without --repair says each in full.'))),
  ];
}

function repairBlocks(
  { sides }: MergeResult,
  repaired: Repaired,
  row: Row,
  paint: Paint,
  options: ReportOptions,
): readonly (readonly string[])[] {
  const { repair, left, fresh, comparison } = repaired;
  const verdict =
    repair.problems.length > 0
      ? 'not every new number could be written; see above'
      : left.length === 0
        ? 'with these numbers no finding is left'
        : `with these numbers ${tally(left)} ${left.length === 1 ? 'is' : 'are'} left${fresh.length === 0 ? '' : `, ${fresh.length} of them new`}: see below`;
  return [
    ...problemBlocks(repair.problems, paint, options),
    [
      ...heading('PROPOSED NUMBERS', paint, options),
      ...row('Proof', prose(verdict)),
      ...row('Touched', prose(touchedWords(repair.touched, repair.atLeast))),
      ...row('Settings', say`those of ${repair.counts} hold where the rigs are one`),
      ...rows(row, 'No room', capped(repair.stuck.map((one) => solid(one)))),
      ...meetingRows({ ...repaired.meeting, ranges: [], queriers: [] }, row),
    ],
    ...sheetBlocks(comparison, options),
    ...(left.length === 0
      ? []
      : [
          [
            ...heading('LEFT FOR PEOPLE', paint, options),
            ...withSides(left, sides).flatMap((finding) => {
              const { what, fix } = findingText(finding);
              return [...row(finding.severity.toUpperCase(), prose(what)), ...row('', prose(fix))];
            }),
          ],
        ]),
  ];
}

function touchedWords(touched: number, atLeast: number): string {
  if (touched === 0) return 'no box has to give up a group or an address';
  const boxes = `${count(touched, 'box', 'boxes')} ${touched === 1 ? 'gives' : 'give'} up groups or addresses`;
  return touched === atLeast
    ? `${boxes}; fewer can't do`
    : `${boxes}; the least number that would do is at least ${atLeast}`;
}

function rows(row: Row, label: string, entries: readonly (readonly Piece[])[]): readonly string[] {
  return entries.flatMap((entry, index) => row(index === 0 ? label : '', entry));
}

function capped(entries: readonly (readonly Piece[])[]): readonly (readonly Piece[])[] {
  return entries.length <= MOST_ROWS
    ? entries
    : [...entries.slice(0, MOST_ROWS - 1), prose(`and ${entries.length - MOST_ROWS + 1} more, all in the JSON report`)];
}
