/** Parts that ask: answers at the questionnaire, words of commands that read no plan, and cures carried out. */
import { readdirSync } from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { COMMON_KINDS } from '../../src/allocate/ask/common-kinds.js';
import { run } from '../tools/run-program.js';
import { bytesOf, fault, type Files, type Part } from './case.js';
import { lay } from './folder.js';
import type { Json } from './json.js';
import { HOSTILE } from './materials.js';
import { told } from './owed.js';
import { mutatedText } from './texts.js';
import { planTrees } from './trees.js';

const TODAY = ['--today', '2026-06-01'];
const hostile = fc.constantFrom(...HOSTILE.filter((one) => typeof one === 'string'));

const kind = fc.constantFrom(...COMMON_KINDS.map(({ plural }) => plural));
const crates = fc
  .array(fc.tuple(fc.integer({ min: 0, max: 30 }), kind), { maxLength: 6 })
  .map((all) => all.map(([count, name]) => `${count} ${name}`).join(', '));
const taking = fc
  .array(fc.tuple(kind, fc.array(kind, { maxLength: 3 })), { maxLength: 3 })
  .map((all) => all.map(([who, what]) => `${who}: ${what.join(', ')}`).join('; '));

/** Lines as somebody types them: mostly sense, some of it at the wrong question. */
const line = fc.oneof(
  { weight: 8, arbitrary: fc.constant('') },
  { weight: 4, arbitrary: crates },
  { weight: 3, arbitrary: taking },
  {
    weight: 4,
    arbitrary: fc.constantFrom(
      'truck',
      'a, b, c',
      '1',
      '2',
      '7',
      '48',
      '0',
      '10.0.0.0/8',
      '192.168.0.0/22',
      '172.16.0.0/12',
      '239.0.0.0/8',
      '239.255.240.0/20',
      '100',
      '200 %',
      'mine.yaml',
      'none',
    ),
  },
  {
    weight: 1,
    arbitrary: mutatedText(fc.constantFrom('4 cameras, 2 stage boxes', 'Sanderling', '10.20.0.0/14')).map(oneLine),
  },
  { weight: 1, arbitrary: hostile.map(oneLine) },
);

function oneLine(text: string): string {
  return text.replace(/\n/g, ' ');
}

const MOST_LINES = 60;

export const answers: Part = {
  name: 'answers',
  about: 'lines typed at allocate --ask: the request makes a plan that is read, and all that is taken is followed',
  files: fc
    .array(line, { maxLength: 24 })
    .map((lines): Files => ({ 'typed.txt': [...lines, ...Array<string>(MOST_LINES).fill('')].join('\n') })),
  short: 12,
  async judge(files, folder) {
    lay(files, folder);
    const input = new TextDecoder().decode(bytesOf(files['typed.txt'] ?? ''));
    const asked = await run(['allocate', '--ask'], { cwd: folder, columns: 100, input: `${input}\n` });
    if (asked.status !== 0) fault('usual answers do not end the questions', asked.stdout.slice(-1500), asked.stderr);
    const [request] = readdirSync(folder).filter((name) => /\.ya?ml$/i.test(name));
    if (request === undefined) return fault('no request was written', asked.stdout.slice(-500));
    const made = await told(['allocate', `./${request}`, '--output', 'plan.json.yaml'], 'text', {}, { cwd: folder });
    if (made.status === 2) {
      if (!made.stderr.includes('REFUSED'))
        fault('a request that was asked for is not taken', made.stderr.slice(0, 1500));
      if (/, -\d+ missing/.test(made.stderr)) fault('less than nothing is missing', made.stderr.slice(0, 1500));
      return 2;
    }
    const { data } = await told(['lint', 'plan.json.yaml', '--format', 'json', ...TODAY], 'json', {}, { cwd: folder });
    const { problems, receivers } = data as {
      readonly problems: readonly Json[];
      readonly receivers: { readonly notDelivered: readonly Json[] } | null;
    };
    if (problems.length > 0) fault('a plan from answers is not read again', JSON.stringify(problems[0]));
    if ((receivers?.notDelivered.length ?? 0) > 0)
      fault('a stream of a plan from answers does not arrive', JSON.stringify(receivers?.notDelivered[0]));
    return 3;
  },
};

const FORMATS = [
  '1080p50',
  '1080i25',
  'L24 8ch 125us',
  '2160p50 jpegxs 3bpp',
  '720p59.94 4:2:2 10bit',
  'UHD',
  'AM824 2ch',
  'anc 50',
];
const word = fc.oneof(
  mutatedText(fc.constantFrom(...FORMATS)),
  hostile,
  fc.constantFrom('', '0', '-1', '1e9', '99', '100', 'NaN', '12.5', 'bash', 'zsh', 'fish', 'csh'),
  mutatedText(fc.constantFrom('groups/two-senders', 'two-senders', 'timing/wrong-domain')),
);

/** The words of one command line each, as JSON: no file could hold them in its name. */
export const words: Part = {
  name: 'words',
  about: 'words of commands that read no plan: formats, rules, shells',
  files: fc
    .oneof(
      fc
        .tuple(fc.constant('rate'), fc.array(word, { maxLength: 3 }), fc.option(word, { nil: undefined }))
        .map(([command, formats, headroom]) => [
          command,
          ...(headroom === undefined ? [] : [`--headroom=${headroom}`]),
          '--',
          ...formats,
        ]),
      fc.tuple(fc.constantFrom('explain', 'completion'), word).map(([command, one]) => [command, '--', one]),
      fc
        .tuple(fc.constantFrom('rate', 'explain', 'completion', 'rules'), fc.array(word, { maxLength: 2 }))
        .map(([command, all]) => [command, ...all]),
    )
    .map((all): Files => ({ 'words.json': JSON.stringify(all) })),
  short: 150,
  async judge(files, folder) {
    const all = JSON.parse(new TextDecoder().decode(bytesOf(files['words.json'] ?? '[]'))) as readonly string[];
    const [command = '', ...rest] = all;
    await told(all, 'text', {}, { cwd: folder });
    if (command !== 'rate') return 1;
    const { status, data } = await told([command, '--format', 'json', ...rest], 'json', {}, { cwd: folder });
    if (status === 0 && data !== undefined) finite(data, JSON.stringify(all));
    return 2;
  },
};

/** JSON writes null for a number that is none. */
function finite(data: Json, line: string): void {
  if (JSON.stringify(data).includes('NaN')) fault('a number that is none', line);
}

export const mended: Part = {
  name: 'mended',
  about: 'cures of mutated plans carried out: what is written is read again, and is no worse',
  files: planTrees.map((plan): Files => ({ 'plan.json': JSON.stringify(plan, undefined, 1) })),
  short: 12,
  async judge(files, folder) {
    lay(files, folder);
    const at = { cwd: folder };
    const before = await told(['lint', 'plan.json', '--format', 'json', ...TODAY], 'json', files, at);
    await told(['mend', 'plan.json', ...TODAY], 'text', files, at);
    const mend = await told(
      ['mend', 'plan.json', '--likely', '--write', 'out', '--format', 'json', ...TODAY],
      'json',
      files,
      at,
    );
    if (mend.status === 2 || !readdirSync(folder).includes('out')) return 3;
    const after = await told(['lint', join('out', 'plan.json'), '--format', 'json', ...TODAY], 'json', {}, at);
    const problems = problemsOf(after.data);
    if (problems.length > 0) fault('what mend writes is not read again', JSON.stringify(problems[0]));
    if (worst(after.data) > worst(before.data))
      fault('mend leaves more errors and warnings than there were', mend.stdout.slice(0, 800));
    const again = await told(['mend', join('out', 'plan.json'), '--format', 'json', ...TODAY], 'json', {}, at);
    if (again.status === 2) fault('a mended plan is not mended again', again.stderr.slice(0, 800));
    return 5;
  },
};

interface Judged {
  readonly problems: readonly Json[];
  readonly findings: readonly { readonly severity: string }[];
}

function problemsOf(data: Json | undefined): readonly Json[] {
  return ((data ?? { problems: [] }) as unknown as Judged).problems;
}

function worst(data: Json | undefined): number {
  return ((data ?? { findings: [] }) as unknown as Judged).findings.filter(({ severity }) => severity !== 'note')
    .length;
}
