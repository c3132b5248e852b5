/** The questionnaire's pure part: every answer is taken, or told what to write instead. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { allAnswers, type AllAnswers, type Answers } from '../../src/allocate/ask/answers.js';
import { COMMON_KINDS } from '../../src/allocate/ask/common-kinds.js';
import { CONTROL, kindsText, mediaNetworks } from '../../src/allocate/ask/kinds-text.js';
import { nextQuestion, replyTo } from '../../src/allocate/ask/questions.js';
import { readCrates } from '../../src/allocate/ask/read-crates.js';
import { createModel } from '../../src/model/model.js';
import { loadPlan } from '../../src/plan/load.js';
import { formatPrefix } from '../../src/values/address.js';

const NO_FILE = (): boolean => false;

/** The state after the lines, and what was said to those not taken. */
function talk(
  lines: readonly string[],
  exists: (path: string) => boolean = NO_FILE,
): { readonly answers: Answers; readonly said: readonly string[] } {
  let answers: Answers = {};
  const said: string[] = [];
  for (const line of lines) {
    const question = nextQuestion(answers, exists);
    if (question === undefined) throw new Error(`nothing was asked that \`${line}\` answers`);
    const reply = replyTo(question, line);
    if ('instead' in reply) said.push(reply.instead);
    else answers = reply.answers;
  }
  return { answers, said };
}

/** Every question with its usual answer. */
function usual(): AllAnswers {
  let answers: Answers = {};
  for (let question = nextQuestion(answers, NO_FILE); question !== undefined;) {
    const reply = replyTo(question, '');
    if ('instead' in reply) throw new Error(reply.instead);
    answers = reply.answers;
    question = nextQuestion(answers, NO_FILE);
  }
  const all = allAnswers(answers);
  if (all === undefined) throw new Error('a question was forgotten');
  return all;
}

const SANDERLING = ['Sanderling', 'Kestrel Bay', 'start, finish'];

describe('the questions', () => {
  it('come to an end with the usual answers alone', () => {
    const { areas, networks, addressBlock, groupBlock, growthPercent, file } = usual();
    expect([networks, formatPrefix(addressBlock), formatPrefix(groupBlock), growthPercent, file]).toEqual([
      2,
      '10.20.0.0/14',
      '239.192.0.0/14',
      25,
      'rig-request.yaml',
    ]);
    expect(areas.length).toBe(2);
    expect(areas.flatMap(({ crates }) => crates).some(({ kind }) => kind.leads)).toBe(true);
  });

  it('ask each area in turn what stands there', () => {
    const { answers } = talk([...SANDERLING, '2 clocks', '3 Cameras and 2 stage-boxes, 1 camera']);
    expect(
      answers.areas?.map(({ name, crates }) => [name, crates?.map(({ kind, count }) => [kind.name, count])]),
    ).toEqual([
      ['start', [['clock', 2]]],
      [
        'finish',
        [
          ['camera', 4],
          ['stage-box', 2],
        ],
      ],
    ]);
    expect(nextQuestion(talk(SANDERLING).answers, NO_FILE)?.text).toContain('in start?');
    expect(nextQuestion(talk([...SANDERLING, 'none']).answers, NO_FILE)?.text).toContain('in finish?');
  });

  it.each([
    ['a rig with a slash', [], 'a/b', 'without slash'],
    ['a rig with a control character', [], 'a\u001b[2Jb', 'without slash'],
    ['an area twice', SANDERLING.slice(0, 2), 'start, start', 'name `start` once'],
    ['no area', SANDERLING.slice(0, 2), ',', 'at least one area'],
    [
      'too many areas',
      SANDERLING.slice(0, 2),
      Array.from({ length: 21 }, (_, index) => `a${index}`).join(),
      'no more than 20',
    ],
    ['a slip of the pen in a kind', SANDERLING, '2 camras', 'did you mean cameras?'],
    ['a kind there is not', SANDERLING, '2 zeppelins', 'the kinds are cameras, vision mixers'],
    ['too many of a kind', SANDERLING, '100 cameras, 101 cameras', 'no more than 200 cameras'],
    ['nothing in any area', [...SANDERLING, 'none'], 'none', 'at least `1 camera`'],
    ['switches among boxes', SANDERLING, '2 clocks, 3 switches', 'they are asked for later'],
    ['a sentence about who takes what', [...SANDERLING, '', ''], 'all of it', 'as `multiviewers: cameras, graphics'],
    ['a kind that stands nowhere', [...SANDERLING, '', ''], 'multiviewers: graphics', 'no graphics stand in any area'],
    ['a slip of the pen in who takes', [...SANDERLING, '', ''], 'multiviewrs: cameras', 'did you mean multiviewers?'],
    [
      'sound for a multiviewer',
      [...SANDERLING, '', ''],
      'multiviewers: stage boxes',
      'can take nothing that stage boxes send',
    ],
    ['a kind from itself', [...SANDERLING, '', ''], 'replay: replay', 'nothing of each other'],
    ['ports without a number', [...SANDERLING, '', '', '', ''], 'many', 'from 0 to 512'],
    ['three networks', [...SANDERLING, '', '', ''], '3', 'write 1 or 2'],
    ['an address for a block', [...SANDERLING, '', '', '', '', ''], '10.20.0.1', '10.20.0.0/14'],
    ['a block with host bits', [...SANDERLING, '', '', '', '', ''], '10.20.1.0/16', '10.20.0.0/16'],
    // RFC 1918 §3: 172.32 lies behind 172.16/12.
    ['a block that is not private', [...SANDERLING, '', '', '', '', ''], '172.32.0.0/16', '172.16.0.0/12'],
    ['a block too wide for its range', [...SANDERLING, '', '', '', '', ''], '192.168.0.0/12', '192.160.0.0/12'],
    ['a block too small', [...SANDERLING, '', '', '', '', ''], '10.20.0.0/24', 'from /8 to /22'],
    ['an IPv6 block', [...SANDERLING, '', '', '', '', ''], 'fd00::/8', '10.0.0.0/8'],
    // RFC 2365 §6: 239/8 is administratively scoped; 224/8 is assigned.
    ['groups of others', [...SANDERLING, '', '', '', '', '', ''], '224.2.0.0/16', '239.0.0.0/8'],
    ['a negative growth', [...SANDERLING, '', '', '', '', '', '', ''], '-5', '0 to 200'],
    ['more growth than rig', [...SANDERLING, '', '', '', '', '', '', ''], '500', '0 to 200'],
    ['a file of another kind', [...SANDERLING, '', '', '', '', '', '', '', ''], 'request.txt', 'ends in .yaml'],
    [
      'a file that exists',
      [...SANDERLING, '', '', '', '', '', '', '', ''],
      'mine.yaml',
      'mine.yaml exists and is kept',
    ],
  ])('say what to write instead of %s, and ask again', (_, before, line, instead) => {
    const exists = (path: string): boolean => path === 'mine.yaml';
    const earlier = talk(before, exists);
    const { answers, said } = talk([...before, line], exists);
    expect(said.length).toBe(1);
    expect(said[0]).toContain(instead);
    expect(answers).toEqual(earlier.answers);
  });

  it('propose a file that does not exist', () => {
    const taken = new Set(['sanderling-request.yaml', 'sanderling-request-2.yaml']);
    const { answers } = talk([...SANDERLING, '', '', '', '', '', '', '', '', ''], (path) => taken.has(path));
    expect(answers.file).toBe('sanderling-request-3.yaml');
  });

  it('take anything typed without failing, and come to an end', () => {
    fc.assert(
      fc.property(fc.array(fc.string({ unit: 'binary', maxLength: 30 }), { maxLength: 40 }), (lines) => {
        let answers: Answers = {};
        for (const line of lines) {
          const question = nextQuestion(answers, NO_FILE);
          if (question === undefined) break;
          const reply = replyTo(question, line);
          if ('instead' in reply) expect(reply.instead.length).toBeGreaterThan(5);
          else answers = reply.answers;
        }
        let left = 0;
        for (let question = nextQuestion(answers, NO_FILE); question !== undefined; left++) {
          const reply = replyTo(question, '');
          expect(reply).toHaveProperty('answers');
          if ('answers' in reply) answers = reply.answers;
          question = nextQuestion(answers, NO_FILE);
        }
        expect(left).toBeLessThan(30);
      }),
    );
  });
});

describe('the kinds', () => {
  it('are told apart by what people write, and each is read by its own names', () => {
    const said = COMMON_KINDS.flatMap((kind) => kind.said);
    expect(new Set(said).size).toBe(said.length);
    for (const kind of COMMON_KINDS) {
      for (const words of [kind.name, kind.plural, kind.plural.toUpperCase()])
        expect(readCrates(`7 ${words}`)).toEqual({ crates: [{ kind, count: 7 }] });
    }
  });

  it.each([1, 2] as const)('are what a plan takes, with a rate for every stream, on %d media networks', (networks) => {
    const areas = [{ name: 'island', crates: COMMON_KINDS.map((kind) => ({ kind, count: 1 })) }];
    const answers = { ...usual(), areas, networks };
    const names = [...mediaNetworks(answers), CONTROL];
    const text = [
      `networks: [${names.map((name) => `{name: ${name}}`).join(', ')}]`,
      kindsText(answers),
      `devices: [${COMMON_KINDS.map(({ name }) => `{name: ${name}-1, kind: ${name}}`).join(', ')}]`,
    ].join('\n');
    const { plan, problems } = loadPlan([{ name: 'kinds.yaml', text }]);
    expect([problems, plan.unresolved]).toEqual([[], []]);
    expect(plan.interfaces.length).toBe(COMMON_KINDS.length * (networks + 1));
    expect(plan.legs.length).toBe(plan.senders.length * networks);
    const { rates } = createModel(plan);
    for (const leg of plan.legs) {
      const rate = rates.onWire(leg)?.onPort;
      // A port that takes one stream of its box.
      expect(rate, leg.sender.label).toBeGreaterThan(0);
      expect(rate, leg.sender.label).toBeLessThan(leg.interface?.rateBps ?? 0);
    }
  });

  it('are written only where one stands somewhere', () => {
    const camera = COMMON_KINDS.filter(({ name }) => name === 'camera').map((kind) => ({ kind, count: 2 }));
    const text = kindsText({ ...usual(), areas: [{ name: 'island', crates: camera }] });
    expect(text).toContain('name: camera');
    expect(text).not.toMatch(/stage-box|sound 8/);
  });
});
