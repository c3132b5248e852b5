/** What was mended and what was not, for programs: `schemas/mend.schema.json`. */
import type { Finding } from '../../lint/finding.js';
import type { MendResult } from '../../mend/mend.js';
import { CAUTION } from '../caution.js';
import { problemJson, toolJson } from '../common-json.js';
import { cureJson, curesOf } from '../lint/cures.js';
import { differencesOf } from './differences.js';
import { leftOutWords } from './words.js';

export function mendJson(result: MendResult, version: string): object {
  const { before, after, mended, left } = result;
  const cureOf = curesOf([...mended, ...left].map(({ finding }) => finding));
  const cured = (finding: Finding): object => {
    const cure = cureOf(finding);
    return cure === undefined ? {} : { cure: cureJson(cure) };
  };
  return {
    format: 1,
    tool: toolJson(version),
    judged: after !== undefined,
    mended: mended.map(({ finding }) => ({ ...keyJson(finding), ...cured(finding) })),
    left: left.map(({ finding, why }) => ({
      ...keyJson(finding),
      ...cured(finding),
      why: why.kind,
      words: leftOutWords(why),
    })),
    remaining: (after?.findings ?? []).map(keyJson),
    files: differencesOf(result).map(({ name, hunks }) => ({
      name,
      hunks: hunks.map(({ oldStart, newStart, lines }) => ({
        oldStart,
        newStart,
        lines: lines.map(({ mark, text }) => `${mark}${text}`),
      })),
    })),
    problems: before.problems.map(problemJson),
    caution: CAUTION,
  };
}

function keyJson({ rule, subject, severity }: Finding): { rule: string; subject: string; severity: string } {
  return { rule, subject, severity };
}
