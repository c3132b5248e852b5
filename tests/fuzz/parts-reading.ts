/** Parts that read: bytes of every kind of file, plans through every command and report, two spellings of one plan. */
import fc from 'fast-check';
import { stringify } from 'yaml';
import { fault, type Files, type Part } from './case.js';
import { lay } from './folder.js';
import type { Json, JsonObject } from './json.js';
import { EXAMPLES } from './materials.js';
import { told, type Kind } from './owed.js';
import { mutatedText, encoded } from './texts.js';
import { planTrees } from './trees.js';

const PLAN_TODAY = ['--today', '2026-06-01'];

const SDP = `v=0
o=- 1 1 IN IP4 10.20.1.31
s=cam-11 video
t=0 0
a=group:DUP first second
m=video 5004 RTP/AVP 96
c=IN IP4 239.20.1.1/16
a=source-filter: incl IN IP4 239.20.1.1 10.20.1.31
a=rtpmap:96 raw/90000
a=fmtp:96 sampling=YCbCr-4:2:2; width=1920; height=1080; exactframerate=50; depth=10; TCS=SDR; colorimetry=BT709; PM=2110GPM; SSN=ST2110-20:2017; TP=2110TPN
a=ts-refclk:ptp=IEEE1588-2008:39-A7-94-FF-FE-07-CB-D0:127
a=mediaclk:direct=0
a=mid:first
m=video 5004 RTP/AVP 96
c=IN IP4 239.30.1.1/16
a=rtpmap:96 raw/90000
a=mid:second
`.replaceAll('\n', '\r\n');

const CSV = `device,sender,group,port,source,vlan,essence,format
cam-11,video,239.20.1.1,5004,10.20.1.31,red-video,video,1080p50
cam-11,"audio, 1-8",239.20.2.1,5004,10.20.1.31,red-audio,audio,L24 8ch 125us
cam-12,video,239.20.1.2,5004,10.20.1.32,red-video,video,
`;

const materials = fc.oneof(
  { weight: 4, arbitrary: fc.constantFrom(...EXAMPLES.map(({ name, text }) => ({ ending: endingOf(name), text }))) },
  { weight: 1, arbitrary: fc.constant({ ending: 'sdp', text: SDP }) },
  { weight: 1, arbitrary: fc.constant({ ending: 'csv', text: CSV }) },
);

export const readers: Part = {
  name: 'readers',
  about: 'texts and bytes of every kind of file, read and judged',
  files: materials.chain(({ ending, text }) =>
    encoded(mutatedText(fc.constant(text))).map((content): Files => ({ [`plan.${ending}`]: content })),
  ),
  short: 40,
  async judge(files, folder) {
    lay(files, folder);
    const at = { cwd: folder, schema: 'report' };
    const names = Object.keys(files);
    await told(['lint', ...names, ...PLAN_TODAY, '--format', 'json'], 'json', files, at);
    await told(['lint', ...names, ...PLAN_TODAY], 'text', files, { cwd: folder });
    return 2;
  },
};

/** Every command that reads one plan, in every format it has. */
const QUESTIONS: readonly (readonly [kind: Kind, schema: string | undefined, words: readonly string[]])[] = [
  ['text', undefined, ['lint', 'plan.json', ...PLAN_TODAY, '--width', '60']],
  ['json', undefined, ['lint', 'plan.json', ...PLAN_TODAY, '--format', 'sarif']],
  ['text', undefined, ['failures', 'plan.json', '--all']],
  ['json', 'failures', ['failures', 'plan.json', '--format', 'json', '--all']],
  ['csv', undefined, ['failures', 'plan.json', '--format', 'csv', '--all']],
  ['text', undefined, ['clocks', 'plan.json', '--all']],
  ['json', 'clocks', ['clocks', 'plan.json', '--format', 'json', '--all']],
  ['text', undefined, ['delay', 'plan.json', '--all']],
  ['json', 'delay', ['delay', 'plan.json', '--format', 'json', '--all']],
  ...['hosts', 'streams', 'vlans', 'ports', 'clocks'].map(
    (sheet) => ['csv', undefined, ['sheets', 'plan.json', '--only', sheet]] as const,
  ),
  ['text', undefined, ['merge', 'plan.json', 'other.json', '--own', ...PLAN_TODAY]],
  ['json', 'merge', ['merge', 'plan.json', 'other.json', '--repair', '--format', 'json', ...PLAN_TODAY]],
  ['text', undefined, ['diff', 'plan.json', 'other.json']],
  ['json', undefined, ['diff', 'other.json', 'plan.json', '--format', 'json']],
  ['csv', undefined, ['diff', 'other.json', 'plan.json', '--format', 'csv']],
];

export const plans: Part = {
  name: 'plans',
  about: 'mutated plans through every command and report',
  files: fc.tuple(planTrees, planTrees).map(([plan, other]): Files => ({
    'plan.json': JSON.stringify(plan, undefined, 1),
    'other.json': JSON.stringify(other, undefined, 1),
  })),
  short: 12,
  async judge(files, folder) {
    lay(files, folder);
    const lint = ['lint', 'plan.json', ...PLAN_TODAY, '--format', 'json'];
    const { data } = await told(lint, 'json', files, { cwd: folder, schema: 'report' });
    for (const [kind, schema, words] of QUESTIONS)
      await told(words, kind, files, { cwd: folder, ...(schema === undefined ? {} : { schema }) });
    await told(['clocks', 'plan.json', '--colour', 'always'], 'none', files, { cwd: folder });
    const names = new Set(partiesOf(data));
    for (const name of [...names].filter((one) => one.includes('/') && !one.startsWith('-')).slice(0, 3)) {
      await told(['trace', 'plan.json', name, ...PLAN_TODAY], 'text', files, { cwd: folder });
      await told(['trace', 'plan.json', name, ...PLAN_TODAY, '--format', 'json'], 'json', files, {
        cwd: folder,
        schema: 'trace',
      });
      await told(['delay', 'plan.json', `--stream=${name}`], 'text', files, { cwd: folder });
    }
    for (const name of [...names].slice(0, 2)) {
      await told(['failures', 'plan.json', `--lose=${name}`], 'text', files, { cwd: folder });
      await told(['clocks', 'plan.json', `--lose=${name}`], 'text', files, { cwd: folder });
      await told(['failures', 'plan.json', `--lose=${name}`, '--timeline'], 'text', files, { cwd: folder });
      await told(['failures', 'plan.json', `--lose=${name}`, '--timeline', '--format', 'json'], 'json', files, {
        cwd: folder,
        schema: 'timeline',
      });
    }
    return QUESTIONS.length + 2;
  },
};

function partiesOf(data: Json | undefined): readonly string[] {
  const { findings } = (data ?? {}) as { readonly findings?: readonly { readonly parties: readonly string[] }[] };
  return (findings ?? []).flatMap(({ parties }) => parties);
}

function endingOf(name: string): string {
  return name.slice(name.lastIndexOf('.') + 1);
}

/** Written by another library, with all text in quotes: what YAML makes of bare words is the readers' own part. */
function yamlOf(tree: Json, flow: boolean): string {
  return stringify(tree, {
    version: '1.2',
    schema: 'core',
    defaultStringType: 'QUOTE_DOUBLE',
    defaultKeyType: 'QUOTE_DOUBLE',
    collectionStyle: flow ? 'flow' : 'block',
    lineWidth: 0,
    aliasDuplicateObjects: false,
  });
}

export const spellings: Part = {
  name: 'spellings',
  about: 'one plan in JSON and in two kinds of YAML: the same findings',
  files: planTrees.map((plan): Files => ({ 'plan.json': JSON.stringify(plan) })),
  short: 40,
  async judge(files, folder) {
    const tree = JSON.parse(String(files['plan.json'])) as JsonObject;
    const all: Files = { ...files, 'plan.yaml': yamlOf(tree, false), 'flow.yaml': yamlOf(tree, true) };
    lay(all, folder);
    const said: string[] = [];
    for (const name of Object.keys(all)) {
      const { data } = await told(['lint', name, ...PLAN_TODAY, '--format', 'json'], 'json', all, { cwd: folder });
      said.push(JSON.stringify(withoutPlaces(data ?? null), undefined, 1).replaceAll(name, 'plan'));
    }
    for (const [index, other] of said.entries())
      if (other !== said[0])
        fault(
          'JSON and YAML of one plan say different things',
          `${Object.keys(all)[index] ?? ''}:`,
          firstDifference(said[0] ?? '', other),
        );
    return said.length;
  },
};

/** What was said, without where; of problems only how many, since each says what its own format would have. */
function withoutPlaces(data: Json): Json {
  if (data === null || typeof data !== 'object') return data;
  if (Array.isArray(data)) return (data as readonly Json[]).map(withoutPlaces);
  const { problems, ...rest } = data as JsonObject;
  const kept = Object.entries(rest).filter(
    ([key]) => !['file', 'line', 'column', 'endLine', 'endColumn', 'files', 'where'].includes(key),
  );
  return {
    ...Object.fromEntries(kept.map(([key, value]) => [key, withoutPlaces(value)])),
    ...(Array.isArray(problems) ? { problems: (problems as readonly Json[]).length } : {}),
  };
}

function firstDifference(one: string, other: string): string {
  const [left, right] = [one.split('\n'), other.split('\n')];
  const at = left.findIndex((line, index) => line !== right[index]);
  return `- ${left.slice(at, at + 3).join(' ')}\n+ ${right.slice(at, at + 3).join(' ')}`;
}
