/** The shape of what a rule yields: convention rules may be plain JavaScript, which no compiler has looked at. */
import { isCitation } from './citation.js';
import { CONFIDENCES, SEVERITIES } from './finding.js';

/** What is wrong with a draft, in words that follow on "a finding"; undefined where nothing is. */
export function faultOfDraft(draft: unknown): string | undefined {
  if (!isRecord(draft)) return 'that is no object';
  const { subject, parties, facts, at, others, touch, hits, severity, confidence, sources } = draft;
  if (typeof subject !== 'string') return 'without a `subject`';
  const about = `about \`${subject}\``;
  if (parties !== undefined && !(Array.isArray(parties) && parties.every((one) => typeof one === 'string')))
    return `${about} whose \`parties\` are no list of names`;
  if (!isRecord(facts)) return `${about} without \`facts\``;
  if (!isMark(at)) return `${about} whose \`at\` is no place: make one with \`mark(entity, label, key)\``;
  if (others !== undefined && !(Array.isArray(others) && others.every(isMark)))
    return `${about} whose \`others\` are no list of places`;
  if (!isRecord(touch) || typeof touch['kind'] !== 'string' || typeof touch['name'] !== 'string')
    return `${about} without a \`touch\``;
  if (hits !== undefined && !(Array.isArray(hits) && hits.every(isReceiver)))
    return `${about} whose \`hits\` are no list of receivers of the plan`;
  if (severity !== undefined && !SEVERITIES.some((known) => known === severity))
    return `${about} whose \`severity\` is not one of ${SEVERITIES.join(', ')}`;
  if (confidence !== undefined && !CONFIDENCES.some((known) => known === confidence))
    return `${about} whose \`confidence\` is not one of ${CONFIDENCES.join(', ')}`;
  return sources === undefined || (Array.isArray(sources) && sources.every(isCitation))
    ? undefined
    : `${about} whose \`sources\` are no list of \`clause(document, where)\` or \`commonPractice(what)\``;
}

function isReceiver(value: unknown): boolean {
  return isRecord(value) && typeof value['label'] === 'string' && Array.isArray(value['legs']);
}

function isMark(value: unknown): boolean {
  if (!isRecord(value) || typeof value['label'] !== 'string' || !isRecord(value['place'])) return false;
  const { document, container } = value['place'];
  return isRecord(document) && typeof document['locate'] === 'function' && isRecord(container);
}

function isRecord(value: unknown): value is Readonly<Record<string, unknown>> {
  return typeof value === 'object' && value !== null;
}
