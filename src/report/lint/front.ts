/** The first page of a report: one line a cause, worst for the show first, each with the number of its block. */
import { groupBy } from '../../collections/group-by.js';
import type { EffectKind } from '../../lint/effect.js';
import { findingText, SEVERITIES, type Finding } from '../../lint/finding.js';
import { byEffect } from '../../lint/rank.js';
import type { LintResult } from '../../lint/result.js';
import { passes, showsAll, type FindingFilter } from '../../lint/filter.js';
import { eachInput } from '../../plan/inputs.js';
import type { Receiver } from '../../plan/types.js';
import type { Block, Part } from '../../page/page.js';
import { prose, say, sayAll, title, type Phrase } from '../../page/phrase.js';
import { headed, paragraph, rowsPart, toned } from '../../page/rows.js';
import { agree, counted } from '../../words/counts.js';
import { EFFECT_TITLES, effectPhrases, whomOf } from './effect-words.js';
import type { NumberedTask } from './tasks.js';

/** Room of a number before its line. */
const NUMBER_ROOM = 6;

/** Nothing where nothing is found. */
export function frontBlocks(
  result: LintResult,
  tasks: readonly NumberedTask[],
  filter: FindingFilter,
  leftOut: readonly Finding[],
): readonly Block[] {
  const lines = tasks
    .flatMap(({ number, findings }) => findings.map((finding) => ({ number, finding })))
    .sort((a, b) => byEffect(a.finding, b.finding));
  if (lines.length === 0) return [];
  const shown = lines.filter(({ finding }) => passes(finding, filter));
  const parts = [...groupBy(shown, ({ finding }) => finding.effect.kind)].flatMap(([kind, own]) =>
    sectionOf(kind, own),
  );
  const before = darkBesides(result, leftOut).map(paragraph);
  const after = filterWords(filter, shown.length, lines.length).map(paragraph);
  return [
    headed(
      `${counted(lines.length, 'cause').toUpperCase()} IN ${counted(tasks.length, 'task').toUpperCase()}, WORST FOR THE SHOW FIRST`,
      ...before,
      ...parts,
      ...after,
    ),
  ];
}

function sectionOf(
  kind: EffectKind,
  lines: readonly { readonly number: number; readonly finding: Finding }[],
): readonly Part[] {
  return [
    paragraph(title(EFFECT_TITLES[kind])),
    ...rowsPart(
      NUMBER_ROOM,
      lines.flatMap(({ number, finding }) => toned('count', String(number), [lineOf(finding)])),
    ),
  ];
}

function lineOf(finding: Finding): Phrase {
  const { effect, severity, at } = finding;
  const { of } = finding.brief;
  const fault = `${at.side === undefined ? '' : `${at.side}: `}${of}: ${findingText(finding).brief}`;
  const parts = [prose(fault), ...effectPhrases(effect, of)];
  return severity === SEVERITIES[0] ? sayAll(parts) : say`${sayAll(parts)} (${severity})`;
}

function filterWords(filter: FindingFilter, shown: number, all: number): readonly Phrase[] {
  if (showsAll(filter)) return [];
  const asked = [
    ...(filter.area === undefined ? [] : [`area ${filter.area}`]),
    ...(filter.severity === undefined ? [] : [`severity ${filter.severity}`]),
    ...(filter.device === undefined ? [] : [`device ${filter.device}`]),
  ];
  return [
    prose(`${shown} of ${counted(all, 'cause')} shown: ${asked.join(', ')}. Numbers are those of the whole report.`),
  ];
}

/** Receivers that get nothing by what is accepted or shown elsewhere, or by nothing that a rule finds. */
function darkBesides({ receivers, findings }: LintResult, leftOut: readonly Finding[]): readonly Phrase[] {
  if (receivers === undefined) return [];
  const told = new Set(findings.flatMap(({ effect }) => effect.dark.map(inputOf)));
  const denied = new Set(receivers.notDelivered.map(({ receiverLeg }) => receiverLeg));
  const all = new Set(receivers.notDelivered.map(({ receiverLeg }) => receiverLeg.receiver));
  const dark = [...all].filter((one) => one.legs.every((leg) => denied.has(leg)));
  const besides: readonly Receiver[] = eachInput(dark).filter((one) => !told.has(inputOf(one)));
  if (besides.length === 0) return [];
  const get = agree(besides.length, 'gets', 'get');
  const elsewhere = leftOut.length === 0 ? 'it is accepted' : 'it is accepted, or a rig has it alone';
  return [say`${whomOf(besides)} ${prose(`${get} nothing, and no line says why: ${elsewhere}, or no rule finds it.`)}`];
}

/** All choices of an input that switches are one. */
function inputOf(receiver: Receiver): object {
  return receiver.selection ?? receiver;
}
