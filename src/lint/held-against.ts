/** Which findings of a changed plan it did not have before the change. */
import { append } from '../collections/group-by.js';
import { covers } from './baseline.js';
import { type Finding, findingKey } from './finding.js';

/**
 * A finding is the same where its rule and subject are, it is no worse, and nobody is in it who was not: some may be out of
 * it since. Its subject names a party where two of a rule were alike, which they may be no longer.
 */
export function createIsNew(before: Iterable<Finding>): (now: Finding) => boolean {
  const byKey = new Map<string, Finding[]>();
  const byShorterKey = new Map<string, Finding[]>();
  for (const finding of before) {
    const key = findingKey(finding);
    append(byKey, key, finding);
    for (const shorter of withoutParty(key)) append(byShorterKey, shorter, finding);
  }
  return (now) => {
    const key = findingKey(now);
    const alike = [key, ...withoutParty(key)].flatMap((one) => byKey.get(one) ?? []);
    return ![...alike, ...(byShorterKey.get(key) ?? [])].some((one) => isHeld(one, now));
  };
}

function isHeld(one: Finding, now: Finding): boolean {
  return (one.severity === now.severity || one.severity === 'error') && covers(one.parties, now.parties);
}

/** What a key may have been before a party was added in brackets; a party may have brackets too. */
function withoutParty(key: string): readonly string[] {
  if (!key.endsWith(')')) return [];
  return [...key.matchAll(/ \(/g)].map(({ index }) => key.slice(0, index));
}
