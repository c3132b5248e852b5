/**
 * Cures cure: over the broken demo rigs, and over random slips in sound plans, alone and in pairs, carrying out a cure
 * removes its finding and brings no other error or warning. `CURES_SLIPS` sets how many slips are tried, `CURES_SEED` from
 * which number on.
 */
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { groupBy } from '../../src/collections/group-by.js';
import { readInputs } from '../../src/edge/files.js';
import { readDocument } from '../../src/read/index.js';
import { generatePlan } from '../bench/generate.js';
import { carryOutEach, type Carried } from '../tools/cures.js';
import { seeded, slip } from '../tools/slips.js';

const EXAMPLES = fileURLToPath(new URL('../../examples', import.meta.url));
const TODAY = '2026-06-01';
const SLIPS = Number(process.env['CURES_SLIPS'] ?? 60);
const SEED = Number(process.env['CURES_SEED'] ?? 1);

/** Cures that are refused for good: what they would bring is there already, hidden by the fault they mend. */
const UNCOVERS: Readonly<Record<string, readonly string[]>> = {
  'heron-broken': ['plan/unknown-reference', 'vlans/no-path'],
  'dunlin-broken': ['igmp/no-querier'],
};

describe.each(['heron-broken', 'dunlin-broken'])('%s', (rig) => {
  it('has cures that cure, each alone', () => {
    const { inputs } = readInputs([join(EXAMPLES, 'kestrel-bay', rig)]);
    const carried = carryOutEach(inputs, TODAY);
    expect(carried.length).toBeGreaterThan(30);
    const failed = carried.filter((one) => one.failed !== undefined);
    expect(failed.map(({ finding }) => finding.rule).sort()).toEqual(UNCOVERS[rig]);
    // Each is refused for a finding it would uncover, never for its own.
    expect(failed.every(({ why }) => why?.kind === 'unsound' && !why.stays)).toBe(true);
  });
});

describe('random slips', () => {
  const plans: readonly (readonly [string, unknown])[] = [
    ['a generated plan', JSON.parse(JSON.stringify(generatePlan(24))) as unknown],
    ['the plan of the finish island', treeOf('kestrel-bay/finish-island/plan.yaml')],
    ['the first plan', treeOf('first-plan.yaml')],
  ];

  it.each(plans)('in %s', (_, tree) => {
    const random = seeded(SEED);
    const refused: string[] = [];
    const sums = { slips: 0, findings: 0, certain: 0, likely: 0, people: 0, unsaid: 0 };
    const forPeople: { readonly rule: string; readonly why: string; readonly said: string }[] = [];
    for (let count = 0; count < SLIPS; count++) {
      const plan = JSON.parse(JSON.stringify(tree)) as unknown;
      const said = [slip(plan, random), ...(count % 3 === 0 ? [slip(plan, random)] : [])];
      const text = JSON.stringify(plan, undefined, 1);
      sums.slips++;
      for (const one of carryOutEach([{ name: 'plan.json', text }], TODAY)) {
        sums.findings++;
        sums[one.certainty]++;
        if (one.why?.kind === 'people')
          forPeople.push({ rule: one.finding.rule, why: one.why.why, said: said.join('; ') });
        if (one.failed !== undefined) refused.push(`${said.join('; ')}: ${line(one)}`);
      }
    }
    if (process.env['CURES_SLIPS'] !== undefined)
      console.log([JSON.stringify({ ...sums, refused: refused.length }), ...refused, ...tableOf(forPeople)].join('\n'));
    expect(sums.findings).toBeGreaterThan(SLIPS / 4);
    expect(sums.unsaid).toBe(0);
    // What mend carries out obeys the law, for it refuses what does not; that it has to refuse is rare.
    expect(refused.length, refused.join('\n')).toBeLessThanOrEqual((sums.certain + sums.likely) / 20);
  });
});

function line({ finding, failed, certainty }: Carried): string {
  return `${certainty} ${finding.rule} ${finding.subject}: ${failed ?? ''}`;
}

/** Which rules leave most to people, with a slip of each reason. */
function tableOf(all: readonly { readonly rule: string; readonly why: string; readonly said: string }[]): string[] {
  const byReason = [...groupBy(all, ({ rule, why }) => `${rule}: ${why}`)];
  return byReason
    .sort(([, a], [, b]) => b.length - a.length)
    .map(([reason, [{ said }, ...rest]]) => `${String(rest.length + 1).padStart(5)}  ${reason}  [${said}]`);
}

function treeOf(name: string): unknown {
  const [input] = readInputs([join(EXAMPLES, name)]).inputs;
  const document = input === undefined ? undefined : readDocument(input).document;
  if (document === undefined) throw new Error(`${name} can't be read`);
  return document.value;
}
