/** The rules of the family `groups` on whole plans: the order of entries, and the size of a plan. */
import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import type { Facts as OutsideConventions } from '../../rules/groups/outside-conventions/words.js';
import type { Facts as TwoSenders } from '../../rules/groups/two-senders/words.js';
import type { Finding } from '../../src/lint/finding.js';
import { lintInputs } from '../../src/lint/lint.js';
import { plainFacts } from '../../src/words/plain-facts.js';
import { loadRule, read, ruleFolders } from '../rules/load.js';

const FOLDERS = ruleFolders('groups');
const RULES = await Promise.all(FOLDERS.map(loadRule));
const LISTS = new Set(['devices', 'senders', 'receivers', 'networks', 'vlans', 'switches', 'streams', 'interfaces']);

/** The same plan with its lists back to front; legs, blocks and ranges keep their order, which has a meaning. */
function backwards(value: unknown, key = ''): unknown {
  if (Array.isArray(value)) {
    const items = value.map((item: unknown) => backwards(item));
    return LISTS.has(key) ? items.reverse() : items;
  }
  if (typeof value !== 'object' || value === null) return value;
  // A receiver's `interfaces` name its legs in order.
  const keepsInterfaces = 'takes' in value;
  return Object.fromEntries(
    Object.entries(value).map(([name, inner]) => [
      name,
      keepsInterfaces && name === 'interfaces' ? (inner as unknown) : backwards(inner, name),
    ]),
  );
}

function findings(plan: unknown): readonly Finding[] {
  const result = lintInputs([{ name: 'plan.json', text: JSON.stringify(plan) }], RULES, { today: '2026-06-01' });
  expect(result.problems).toEqual([]);
  expect(result.crashed).toEqual([]);
  return result.findings;
}

/** Findings as data without their positions, which move with the entries. */
function unplaced(found: readonly Finding[]): readonly string[] {
  return found
    .map(({ rule, severity, confidence, subject, parties, facts, at, others, touch }) =>
      JSON.stringify({
        ...{ rule, severity, confidence, subject, parties, touch },
        facts: plainFacts(facts),
        marks: [at, ...others].map(({ label, note }) => ({ label, note: plainFacts(note ?? null) })),
      }),
    )
    .sort();
}

/** The groups that findings offer, in the order of findings. */
function offers(found: readonly Finding[]): readonly string[] {
  return found.flatMap((finding) => {
    if (finding.rule === 'groups/two-senders') return (finding.facts as TwoSenders).free ?? [];
    if (finding.rule !== 'groups/outside-conventions') return [];
    const facts = finding.facts as OutsideConventions;
    return facts.form === 'stream' ? facts.moves.map(({ group }) => group) : [];
  });
}

describe('the order of entries', () => {
  const examples = FOLDERS.flatMap((folder) =>
    folder.files
      .filter((file) => /^bad.*\.yaml$/.test(file))
      .map((file) => [`${folder.id}/${file}`, read(folder, file)] as const),
  );

  it.each(examples)('changes nothing in %s', (_name, text) => {
    const plan: unknown = parse(text);
    const forwards = unplaced(findings(plan));
    expect(forwards.length).toBeGreaterThan(0);
    expect(unplaced(findings(backwards(plan)))).toEqual(forwards);
  });
});

describe('a free group', () => {
  /** `count` streams on `239.30.x.y`, outside the range the conventions promise. */
  function stray(count: number): unknown {
    return {
      rig: 'Heron',
      conventions: { groups: [{ ranges: ['239.20.1.0/24'] }] },
      networks: [{ name: 'red', role: 'media', leg: 1 }],
      streams: Array.from({ length: count }, (_, index) => ({
        name: `stream-${index}`,
        legs: [{ network: 'red', group: `239.30.${1 + (index >> 8)}.${index & 255}` }],
      })),
    };
  }

  it('is offered to one stream only, while there are any', () => {
    const offered = offers(findings(stray(300)));
    expect(offered).toHaveLength(255);
    for (const group of offered) expect(group).toMatch(/^239\.20\.1\.\d+$/);
    expect(new Set(offered).size).toBe(255);
  });

  it('is not offered by two rules', () => {
    const plan = stray(2) as { readonly streams: object[] };
    plan.streams.push(
      ...['kept-1', 'kept-2'].map((name) => ({ name, legs: [{ network: 'red', group: '239.20.1.9', port: 5004 }] })),
    );
    const all = findings(plan);
    expect(all.filter(({ rule }) => rule === 'groups/two-senders')).toHaveLength(1);
    expect([...offers(all)].sort()).toEqual(['239.20.1.1', '239.20.1.2', '239.20.1.3']);
  });

  it('is not one that a stream has already, nor one that shares its multicast MAC', () => {
    const plan = stray(1) as { readonly streams: object[] };
    plan.streams.push({ name: 'kept-1', legs: [{ network: 'red', group: '239.20.1.1' }] });
    // On the other side of the plan, but with the multicast MAC of 239.20.1.2.
    const rest = {
      ...plan,
      networks: [
        { name: 'red', role: 'media', leg: 1 },
        { name: 'blue', role: 'media', leg: 2 },
      ],
      conventions: { groups: [{ network: 'red', ranges: ['239.20.1.0/24'] }] },
    };
    plan.streams.push({ name: 'kept-2', legs: [{ network: 'blue', group: '239.148.1.2' }] });
    expect(offers(findings({ ...rest, streams: plan.streams }))).toEqual(['239.20.1.3']);
  });
});
