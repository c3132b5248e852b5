/** Parts that write: what is written reads again with the meaning it had; and files beside a plan. */
import { readFileSync, readdirSync } from 'node:fs';
import { join, relative } from 'node:path';
import fc from 'fast-check';
import { parse } from 'yaml';
import { joinInput, rigInput, type RigShape } from '../tools/two-rigs.js';
import { fault, type Files, type Part } from './case.js';
import { lay } from './folder.js';
import type { Json, JsonObject } from './json.js';
import { PLANS, REQUEST } from './materials.js';
import { messagePlace, table, told } from './owed.js';
import { mutatedText } from './texts.js';
import { examplePlans, mutated, schemaTrees } from './trees.js';

const TODAY = ['--today', '2026-06-01'];

const shapeOf = (name: string): fc.Arbitrary<RigShape> =>
  fc.record({
    name: fc.constant(name),
    cameras: fc.array(
      fc.record({
        block: fc.integer({ min: 1, max: 3 }),
        last: fc.integer({ min: 1, max: 4 }),
        host: fc.integer({ min: 1, max: 6 }),
      }),
      { minLength: 1, maxLength: 4 },
    ),
    ids: fc.constantFrom(10, 20, 4093),
    net: fc.constantFrom(20, 21),
  });
const textOf = (shape: RigShape): string =>
  rigInput(shape)
    .inputs.map((one) => ('text' in one ? one.text : ''))
    .join('');
const treeOf = (shape: RigShape): JsonObject => parse(textOf(shape)) as JsonObject;

/** Two rigs, written by hand or as trees with some changes. */
const rig = (name: string): fc.Arbitrary<readonly [ending: string, text: string]> =>
  fc.oneof(
    shapeOf(name).map((shape) => ['yaml', textOf(shape)] as const),
    mutated(shapeOf(name).map(treeOf), 2).map((tree) => ['json', JSON.stringify(tree, undefined, 2)] as const),
    mutated(examplePlans, 1).map((tree) => ['json', JSON.stringify({ ...tree, rig: name })] as const),
  );
const rigs: fc.Arbitrary<Files> = fc.tuple(rig('Heron'), rig('Dunlin'), fc.boolean()).map(([one, other, join]) => ({
  [`heron.${one[0]}`]: one[1],
  [`dunlin.${other[0]}`]: other[1],
  ...(join ? { 'join.yaml': joinInput(['Heron', 'Dunlin']).text } : {}),
}));

export const written: Part = {
  name: 'written',
  about: 'merges, sheets and baselines written, read again and written again',
  files: rigs,
  short: 15,
  refused: 5,
  async judge(files, folder) {
    lay(files, folder);
    const at = { cwd: folder };
    const plans = Object.keys(files).filter((name) => !name.startsWith('join'));
    const joined = 'join.yaml' in files ? ['--join', 'join.yaml'] : [];
    const merge = await told(
      ['merge', ...plans, ...joined, '--repair', '--write', 'out', '--format', 'json', ...TODAY],
      'json',
      files,
      { ...at, schema: 'merge' },
    );
    let runs = 1;
    const [first = ''] = plans;
    await told(['lint', first, '--write-baseline', 'baseline.json', ...TODAY], 'text', files, at);
    if (readdirSync(folder).includes('baseline.json')) {
      const known = await told(
        ['lint', first, '--baseline', 'baseline.json', '--format', 'json', ...TODAY],
        'json',
        files,
        at,
      );
      const { findings } = known.data as { readonly findings: readonly Json[] };
      if (known.status !== 0 || findings.length > 0)
        fault('a baseline does not know the findings it was made of', JSON.stringify(findings[0]));
    }
    const same = await told(['diff', first, first, '--format', 'json'], 'json', files, at);
    if (same.status === 1) fault('a plan differs from itself', same.stdout.slice(0, 500));
    await told(['sheets', first, '--output', 'sheets'], 'text', files, at);
    for (const name of readdirSync(folder).includes('sheets') ? readdirSync(join(folder, 'sheets')) : [])
      table(readFileSync(join(folder, 'sheets', name), 'utf8'), `sheets/${name}`);
    runs += 4;
    if (merge.status === 2 || !readdirSync(folder).includes('out')) return runs;
    const out = filesBelow(join(folder, 'out'));
    const again = [...out.keys()].filter((name) => /\.(?:yaml|json)$/.test(name) && !/change-sheet/.test(name));
    for (const name of again) {
      const { data } = await told(['lint', join('out', name), '--format', 'json', ...TODAY], 'json', {}, at);
      const { problems } = data as { readonly problems: readonly Json[] };
      if (problems.length > 0) fault('what a merge writes is not read again', name, JSON.stringify(problems[0]));
      runs++;
    }
    const sheet = [...out.keys()].find((name) => name.endsWith('change-sheet.json'));
    if (sheet === undefined) return runs;
    const applied = await told(['apply', join('out', sheet), ...plans, ...joined, '--write', 'twice'], 'text', {}, at);
    if (applied.status !== 0)
      fault('a change sheet is not taken by the plans it was made from', applied.stdout, applied.stderr);
    const twice = filesBelow(join(folder, 'twice'));
    for (const [name, text] of twice)
      if (out.get(name) !== text) fault('a change sheet gives another plan than the merge that wrote it', name);
    return runs + 1;
  },
};

function filesBelow(folder: string): ReadonlyMap<string, string> {
  return new Map(
    readdirSync(folder, { recursive: true, withFileTypes: true })
      .filter((one) => one.isFile())
      .map((one) => join(one.parentPath, one.name))
      .map((path) => [relative(folder, path), readFileSync(path, 'utf8')] as const),
  );
}

const PROFILE =
  'severity:\n  groups/two-senders: warning\n  "timing/*": off\nthresholds:\n  subnets/nearly-full.percent: 80\n';
const BASELINE =
  '{\n  "rigproofBaseline": 1,\n  "findings": [{"rule": "groups/two-senders", "subject": "239.10.1.1 in red-video"}]\n}\n';
const WAIVED = `rig: Heron
devices: [{name: cam-1}]
waivers:
  - {rule: groups/two-senders, subject: 239.10.1.1 in red-video, reason: rehearsal, until: 2026-07-01}
`;
const SHEET =
  '{"rigproofSheet":1,"tool":{"name":"rigproof","version":"0"},"complete":true,"summary":null,"untouched":[],"stages":[],"edits":[{"file":"Heron/heron.yaml","path":["vlans",{"name":"v-red"},"id"],"from":10,"to":30}],"problems":[]}';
const PLAN = textOf({ name: 'Heron', cameras: [{ block: 1, last: 1, host: 1 }], ids: 10, net: 20 });
const OTHER = textOf({ name: 'Dunlin', cameras: [{ block: 1, last: 1, host: 1 }], ids: 10, net: 20 });

const tree = (value: fc.Arbitrary<JsonObject>): fc.Arbitrary<string> =>
  value.map((one) => JSON.stringify(one, undefined, 1));
const changed = (text: string): fc.Arbitrary<string> =>
  fc.oneof(mutatedText(fc.constant(text)), tree(mutated(fc.constant(parse(text) as JsonObject), 3)));
const side = (name: string, content: fc.Arbitrary<string>): fc.Arbitrary<Files> =>
  content.map((text) => ({ [name]: text }));

const SIDES: readonly (readonly [file: string, content: fc.Arbitrary<string>, words: readonly string[]])[] = [
  [
    'profile.yaml',
    fc.oneof(changed(PROFILE), tree(mutated(schemaTrees('profile'), 1))),
    ['lint', 'heron.yaml', '--profile', 'profile.yaml', ...TODAY],
  ],
  [
    'baseline.json',
    fc.oneof(changed(BASELINE), tree(mutated(schemaTrees('baseline'), 1))),
    ['lint', 'heron.yaml', '--baseline', 'baseline.json', ...TODAY],
  ],
  ['waivers.yaml', changed(WAIVED), ['lint', 'heron.yaml', 'waivers.yaml', ...TODAY]],
  [
    'join.yaml',
    changed(joinInput(['Heron', 'Dunlin']).text),
    ['merge', 'heron.yaml', 'dunlin.yaml', '--join', 'join.yaml', '--repair', ...TODAY],
  ],
  ['ancestor.yaml', changed(PLAN), ['merge', 'heron.yaml', 'dunlin.yaml', '--ancestor', 'ancestor.yaml', ...TODAY]],
  [
    'sheet.json',
    fc.oneof(changed(SHEET), tree(mutated(schemaTrees('sheet'), 1))),
    ['apply', 'sheet.json', 'heron.yaml', 'dunlin.yaml', '--write', 'out'],
  ],
];

/** Which side file is mutated is told by its name. */
export const sides: Part = {
  name: 'sides',
  about: 'files beside a plan: profile, baseline, waivers, join file, ancestor, change sheet',
  files: fc.oneof(...SIDES.map(([name, content]) => side(name, content))),
  short: 80,
  async judge(files, folder) {
    const [name = '', , words = []] = SIDES.find(([file]) => file in files) ?? [];
    lay({ 'heron.yaml': PLAN, 'dunlin.yaml': OTHER, ...files }, folder);
    const { status, stderr, stdout } = await told(words, 'text', files, { cwd: folder });
    messagePlace(stderr, name, files[name] ?? '');
    // What these say wrong is their own; what a join file or a change sheet asks for is said where the plan forbids it.
    if (status === 2 && /^(?:profile|baseline|waivers)/.test(name) && !`${stdout}${stderr}`.includes(name))
      fault(`a ${name} that can't be used is not named`, stdout, stderr);
    return 1;
  },
};

export const requests: Part = {
  name: 'requests',
  about: 'requests, allocated: the plan is read again, is kept by the next allocation, and gives sheets',
  files: fc.oneof(
    mutated(fc.constant(REQUEST), 3).map((one): Files => ({ 'request.json': JSON.stringify(one, undefined, 1) })),
    mutatedText(fc.constant(JSON.stringify(REQUEST, undefined, 1))).map((one): Files => ({ 'request.json': one })),
    mutated(schemaTrees('request'), 1).map((one): Files => ({ 'request.json': JSON.stringify(one, undefined, 1) })),
  ),
  short: 20,
  refused: 2,
  async judge(files, folder) {
    lay({ ...files, 'present.yaml': JSON.stringify(PLANS[0] ?? {}) }, folder);
    const at = { cwd: folder };
    const { status, stderr, stdout } = await told(
      ['allocate', 'request.json', '--output', 'plan.yaml', '--sheets', 'sheets'],
      'text',
      files,
      at,
    );
    messagePlace(stderr, 'request.json', files['request.json'] ?? '');
    await told(['allocate', 'request.json', '--format', 'json', '--output', 'never.yaml'], 'none', files, at);
    if (!readdirSync(folder).includes('plan.yaml')) {
      if (status === 0) fault('an allocation that ends with 0 wrote nothing', stdout, stderr);
      return 2;
    }
    const { data } = await told(['lint', 'plan.yaml', '--format', 'json', ...TODAY], 'json', {}, at);
    const { problems } = data as { readonly problems: readonly Json[] };
    if (problems.length > 0) fault('a plan that was allocated is not read again', JSON.stringify(problems[0]));
    await told(['allocate', 'request.json', '--earlier', 'plan.yaml', '--output', 'again.yaml'], 'text', files, at);
    if (readdirSync(folder).includes('again.yaml') && text(folder, 'again.yaml') !== text(folder, 'plan.yaml'))
      fault('a plan that is kept is another one after the next allocation', text(folder, 'plan.yaml').slice(0, 300));
    for (const name of readdirSync(join(folder, 'sheets'))) table(text(folder, join('sheets', name)), name);
    return 4;
  },
};

function text(folder: string, name: string): string {
  return readFileSync(join(folder, name), 'utf8');
}
