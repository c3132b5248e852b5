/** The rules of the family `groups` on whole plans: the order of entries, and the size of a plan. */
import { worded } from '../tools/worded.js';
import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { lintInputs } from '../../src/lint/lint.js';
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

function findings(plan: unknown): readonly string[] {
  const result = lintInputs([{ name: 'plan.json', text: JSON.stringify(plan) }], RULES, { today: '2026-06-01' });
  expect(result.problems).toEqual([]);
  expect(result.crashed).toEqual([]);
  return result.findings
    .map(worded)
    .map(({ rule, severity, subject, parties, what, at, onAir, fix, touch }) =>
      JSON.stringify({ rule, severity, subject, parties, what, at: at.label, onAir, fix, touch }),
    )
    .sort();
}

describe('the order of entries', () => {
  const examples = FOLDERS.flatMap((folder) =>
    folder.files
      .filter((file) => /^bad.*\.yaml$/.test(file))
      .map((file) => [`${folder.id}/${file}`, read(folder, file)] as const),
  );

  it.each(examples)('changes nothing in %s', (_name, text) => {
    const plan: unknown = parse(text);
    const forwards = findings(plan);
    expect(forwards.length).toBeGreaterThan(0);
    expect(findings(backwards(plan))).toEqual(forwards);
  });
});

describe('a free group', () => {
  /** `count` streams on `239.30.x.y`, outside the range the house promises. */
  function stray(count: number): unknown {
    return {
      rig: 'Heron',
      house: { groups: [{ ranges: ['239.20.1.0/24'] }] },
      networks: [{ name: 'red', role: 'media', leg: 1 }],
      streams: Array.from({ length: count }, (_, index) => ({
        name: `stream-${index}`,
        legs: [{ network: 'red', group: `239.30.${1 + (index >> 8)}.${index & 255}` }],
      })),
    };
  }

  it('is offered to one stream only, while there are any', () => {
    const offered = findings(stray(300)).flatMap((finding) => /to (239\.20\.1\.\d+), free/.exec(finding)?.[1] ?? []);
    expect(offered).toHaveLength(255);
    expect(new Set(offered).size).toBe(255);
  });

  it('is not offered by two rules', () => {
    const plan = stray(2) as { readonly streams: object[] };
    plan.streams.push(
      ...['kept-1', 'kept-2'].map((name) => ({ name, legs: [{ network: 'red', group: '239.20.1.9', port: 5004 }] })),
    );
    const all = findings(plan);
    expect(all.filter((one) => one.includes('groups/two-senders'))).toHaveLength(1);
    const offered = all.flatMap((one) =>
      [...one.matchAll(/to (239\.20\.1\.\d+), free|; (239\.20\.1\.\d+) is free/g)].map((match) => match[1] ?? match[2]),
    );
    expect(offered.sort()).toEqual(['239.20.1.1', '239.20.1.2', '239.20.1.3']);
  });

  it('is not one that a stream has already, nor one that shares its Ethernet address', () => {
    const plan = stray(1) as { readonly streams: object[] };
    plan.streams.push({ name: 'kept-1', legs: [{ network: 'red', group: '239.20.1.1' }] });
    // On the other side of the plan, but with the Ethernet address of 239.20.1.2.
    const rest = {
      ...plan,
      networks: [
        { name: 'red', role: 'media', leg: 1 },
        { name: 'blue', role: 'media', leg: 2 },
      ],
      house: { groups: [{ network: 'red', ranges: ['239.20.1.0/24'] }] },
    };
    plan.streams.push({ name: 'kept-2', legs: [{ network: 'blue', group: '239.148.1.2' }] });
    expect(findings({ ...rest, streams: plan.streams }).join('\n')).toContain('to 239.20.1.3, free');
  });
});
