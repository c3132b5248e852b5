/** Rules of the conventions' own. They may be plain JavaScript, so their shape is checked here and not by a compiler. */
import { isCitation } from '../lint/citation.js';
import { HARMS } from '../lint/effect.js';
import { CONFIDENCES, SEVERITIES } from '../lint/finding.js';
import type { Rule } from '../lint/rule.js';
import { FACTS } from '../model/facts.js';
import { DENIALS } from '../model/verdicts/index.js';

/** The rules a module exports, or what is wrong with them. */
export function rulesOf(module: { readonly default?: unknown }): readonly Rule[] | string {
  const rules: readonly unknown[] = Array.isArray(module.default) ? module.default : [module.default];
  for (const rule of rules) {
    const wrong = faultOf(rule);
    if (wrong !== undefined) return wrong;
  }
  return rules as readonly Rule[];
}

function faultOf(rule: unknown): string | undefined {
  if (typeof rule !== 'object' || rule === null) return 'the default export is not a rule';
  const fields = rule as Readonly<Record<string, unknown>>;
  const { id, summary, severity, confidence, sources, needs, brief, harm, thresholds, explains, stage, check, words } =
    fields;
  if (typeof id !== 'string' || !/^[a-z0-9-]+\/[a-z0-9-]+$/.test(id))
    return 'the `id` of a rule is `family/fault` in small letters';
  if (typeof summary !== 'string') return `\`${id}\` has no \`summary\``;
  if (!SEVERITIES.some((known) => known === severity))
    return `the \`severity\` of \`${id}\` is not one of ${SEVERITIES.join(', ')}`;
  if (confidence !== undefined && !CONFIDENCES.some((known) => known === confidence))
    return `the \`confidence\` of \`${id}\` is not one of ${CONFIDENCES.join(', ')}`;
  if (!Array.isArray(sources)) return `\`${id}\` has no list of \`sources\``;
  if (!sources.every(isCitation))
    return `\`${id}\` has a source that is neither {document: '…', clause: '…'} nor {practice: '…'}`;
  if (!Array.isArray(needs)) return `\`${id}\` has no list of \`needs\` (it may be empty)`;
  const strange = (needs as readonly unknown[]).find((need) => typeof need !== 'string' || !Object.hasOwn(FACTS, need));
  if (strange !== undefined) return `\`${id}\` needs ${JSON.stringify(strange)}, which is no known fact`;
  if (brief !== undefined && typeof brief !== 'string') return `the \`brief\` of \`${id}\` is no text`;
  if (!isHarm(harm)) return `the \`harm\` of \`${id}\` is not one of ${HARMS.join(', ')}, for all or by severity`;
  if (thresholds !== undefined && !areThresholds(thresholds))
    return `\`${id}\` has \`thresholds\` that are not {name: {default: number, what: '…'}}`;
  if (
    explains !== undefined &&
    !(Array.isArray(explains) && explains.every((one) => DENIALS.some((known) => known === one)))
  )
    return `\`${id}\` explains what is not one of ${DENIALS.join(', ')}`;
  if (stage !== undefined && stage !== 'waivers') return `the \`stage\` of \`${id}\` is not \`waivers\`; leave it out`;
  if (typeof check !== 'function') return `\`${id}\` has no \`check\` function`;
  return typeof words === 'function'
    ? undefined
    : `\`${id}\` has no \`words\` function: \`check\` yields \`facts\`, and \`words\` says them`;
}

function isHarm(harm: unknown): boolean {
  if (typeof harm !== 'object' || harm === null) return harm === undefined || HARMS.some((known) => known === harm);
  return Object.entries(harm).every(
    ([key, value]) => SEVERITIES.some((known) => known === key) && HARMS.some((known) => known === value),
  );
}

function areThresholds(value: unknown): boolean {
  if (typeof value !== 'object' || value === null) return false;
  return Object.values(value as Readonly<Record<string, unknown>>).every((one) => {
    if (typeof one !== 'object' || one === null) return false;
    const { default: usual, what } = one as Readonly<Record<string, unknown>>;
    return typeof usual === 'number' && typeof what === 'string';
  });
}
