/** Profiles, baselines and convention rules: every slip has its place and the nearest right word. */
import { Ajv } from 'ajv';
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import type { Rule } from '../../src/lint/rule.js';
import { meantBy } from '../../src/lint/profile.js';
import { loadConventions, type Conventions, type ConventionFiles } from '../../src/profile/conventions.js';
import { readBaseline } from '../../src/profile/read-baseline.js';
import { readProfile, unknownNames } from '../../src/profile/read-profile.js';
import type { Problem } from '../../src/source/problem.js';
import { RULES } from '../../rules/index.js';

const OWN: Rule = {
  id: 'conventions/no-cam',
  summary: 'No cam',
  severity: 'error',
  sources: [],
  needs: [],
  thresholds: { most: { default: 3, what: 'cams there may be' } },
  check: () => [],
  words: () => ({ what: '', onAir: '', fix: '' }),
};

function said(problems: readonly Problem[]): readonly string[] {
  return problems.map(({ at, what, instead }) => `${at.file} ${at.line}:${at.column} ${what}; ${instead}`);
}

/** What a profile is told, by its shape and by its names. */
function slips(text: string, name = 'conventions.yaml'): readonly string[] {
  const { profile, problems } = readProfile({ name, text });
  return said(profile === undefined ? problems : unknownNames(profile, [...RULES, OWN]));
}

describe('a profile', () => {
  it('may be empty of any part, in YAML and JSON', () => {
    const text =
      '{"severity": {"conventions/no-cam": "off"}, "thresholds": {"conventions/no-cam.most": 2}, "conventionRules": ["a.mjs"]}';
    for (const name of ['conventions.json', 'conventions.yaml'])
      expect(readProfile({ name, text }).profile).toMatchObject(JSON.parse(text) as object);
    expect(readProfile({ name: 'conventions.yaml', text: '{}' }).profile).toMatchObject({
      severity: {},
      thresholds: {},
      conventionRules: [],
    });
    expect(slips(text)).toEqual([]);
  });

  it.each([
    [
      'a wrong key',
      'severities:\n  a/b: note\n',
      'conventions.yaml 1:1 unknown key `severities` in the profile; write `severity`; known here: severity, thresholds, conventionRules',
    ],
    [
      'a wrong severity',
      'severity:\n  groups/two-senders: eror\n',
      'conventions.yaml 2:23 `groups/two-senders` is `eror`; write `error`; it is one of error, warning, note, off',
    ],
    [
      'an unknown rule',
      'severity:\n  groups/two-senders: off\n  groups/two-sender: off\n',
      'conventions.yaml 3:3 no rule is called `groups/two-sender`; did you mean `groups/two-senders`?; `rigproof rules` lists the rules',
    ],
    [
      'an unknown threshold',
      'thresholds: {conventions/no-cam.mast: 1}\n',
      'conventions.yaml 1:14 no rule has a threshold `conventions/no-cam.mast`; did you mean `conventions/no-cam.most`?; `rigproof explain RULE` lists the thresholds of a rule',
    ],
    [
      'a threshold in words',
      'thresholds:\n  conventions/no-cam.most: three\n',
      'conventions.yaml 2:28 `conventions/no-cam.most` is text (`three`), not a number; write it so: A number of your own: 75.',
    ],
    [
      'convention rules that are no list',
      'conventionRules: ./a.mjs\n',
      'conventions.yaml 1:18 `conventionRules` is text (`./a.mjs`), not a list; write a list, each entry on a line that starts with `- `. JavaScript files with rules of your own, as seen from this file: [./our-rules.mjs].',
    ],
    [
      'a key by its old name',
      'houseRules: [./a.mjs]\n',
      'conventions.yaml 1:1 unknown key `houseRules` in the profile; write `conventionRules`, as it is called since version 0.2',
    ],
    [
      'a rule by its old name',
      'severity: {groups/outside-house: off}\n',
      'conventions.yaml 1:12 no rule is called `groups/outside-house`; did you mean `groups/outside-conventions`?; `rigproof rules` lists the rules',
    ],
    [
      'a list',
      '- severity\n',
      "conventions.yaml 1:1 the profile is a list, not an entry with keys; write it so: How plans are judged: how severe each rule is, the rules' thresholds, and convention rules. Never part of a plan.",
    ],
  ])('with %s is told where and what to write', (_, text, words) => {
    expect(slips(text)).toEqual([words]);
  });

  it('names every slip at once, and a syntax error alone', () => {
    expect(slips('severity: {a/b: note, c/d: note}\n')).toHaveLength(2);
    expect(slips('severity: {a/b: note\n')).toHaveLength(1);
    expect(slips('{"severity": {"a/b": "fatal"}}', 'conventions.json')[0]).toMatch(/^conventions.json 1:22 /);
  });
});

describe('a baseline', () => {
  const slip = (text: string): readonly string[] => said(readBaseline({ name: 'base.json', text }).problems);

  it('that is something else is told how to write one', () => {
    const words =
      'base.json 1:1 this is not a baseline file; write one with `rigproof lint PLAN --write-baseline FILE`';
    expect(slip('{"findings": []}')).toEqual([words]);
    expect(slip('[]')).toEqual([words]);
    expect(slip('7')).toEqual([words]);
  });

  it('with a rule by its old name is refused: it would accept nothing', () => {
    const old = { rule: 'groups/outside-house', subject: 'cam in rig Heron', parties: [] };
    expect(slip(JSON.stringify({ rigproofBaseline: 1, findings: [old] }))).toEqual([
      'base.json 1:43 no rule is called `groups/outside-house` any more; write `groups/outside-conventions`, as it is called since version 0.2',
    ]);
  });

  it('with a slip is told where', () => {
    expect(slip('{"rigproofBaseline": 1, "findings": [{"rule": 1, "subject": "a", "parties": []}]}')).toEqual([
      'base.json 1:47 `rule` is `1`, not text; put it in quotes: "1". Name of the rule: groups/two-senders.',
    ]);
    expect(slip('{"rigproofBaseline": 1,\n "findings": [{"rule": "a/b", "subject": "a"}]}')[0]).toMatch(
      /^base.json 2:15 .*has no `parties`/,
    );
    expect(slip('{"rigproofBaseline": 2, "findings": []}')[0]).toMatch(/^base.json 1:22 .*write 1$/);
  });
});

describe('conventions', () => {
  const files = (
    texts: Readonly<Record<string, string>>,
    modules: Readonly<Record<string, unknown>>,
  ): ConventionFiles => ({
    open: (name) => ({ name, text: texts[name] ?? '' }),
    run: (path, from) => {
      const key = from === undefined ? path : `${from} > ${path}`;
      return key in modules ? Promise.resolve({ default: modules[key] }) : Promise.reject(new Error('not there'));
    },
  });
  const load = (
    texts: Readonly<Record<string, string>>,
    modules: Readonly<Record<string, unknown>>,
  ): Promise<Conventions> =>
    loadConventions(
      RULES,
      { profile: 'conventions.yaml', conventionRules: Object.keys(modules).filter((key) => !key.includes('>')) },
      files(texts, modules),
    );

  it('has the built-in rules, those of its profile, and those named', async () => {
    const { rules, profile, problems } = await load(
      {
        'conventions.yaml': 'conventionRules: [own.mjs]\nseverity: {conventions/no-cam: note, conventions/more: off}\n',
      },
      { 'conventions.yaml > own.mjs': OWN, 'more.mjs': [{ ...OWN, id: 'conventions/more' }] },
    );
    expect(problems).toEqual([]);
    expect(rules.slice(RULES.length).map(({ id }) => id)).toEqual(['conventions/no-cam', 'conventions/more']);
    expect(profile.severity).toEqual({ 'conventions/no-cam': 'note', 'conventions/more': 'off' });
  });

  it.each([
    ['a file that can not be run', undefined, "own.mjs: this convention rule file can't be loaded (not there)"],
    ['an export that is no rule', 7, 'own.mjs: the default export is not a rule'],
    ['a taken name', { ...OWN, id: 'groups/two-senders' }, 'a rule called `groups/two-senders` exists already'],
  ])('is told of %s where the profile names it', async (_, module, words) => {
    const { rules, problems } = await load(
      { 'conventions.yaml': 'severity: {conventions/no-cam: note}\nconventionRules:\n  - own.mjs\n' },
      module === undefined ? {} : { 'conventions.yaml > own.mjs': module },
    );
    expect(said(problems)).toHaveLength(1);
    expect(said(problems)[0]).toMatch(/^conventions.yaml 3:5 /);
    expect(said(problems)[0]).toContain(words);
    expect(rules).toEqual(RULES);
  });

  it('is told of a confidence there is not', async () => {
    const { problems } = await load({ 'conventions.yaml': '{}' }, { 'own.mjs': { ...OWN, confidence: 'sure' } });
    expect(said(problems)[0]).toContain(
      'the `confidence` of `conventions/no-cam` is not one of certain, likely, assumed',
    );
  });

  it.each([
    ['text', { brief: 7 }, 'the `brief` of `conventions/no-cam` is no text'],
    [
      'a harm there is not',
      { harm: 'ruins' },
      'the `harm` of `conventions/no-cam` is not one of spoils, exposes, unicast, others, later, paper',
    ],
    ['a harm for no severity', { harm: { fatal: 'later' } }, 'the `harm` of `conventions/no-cam` is not one of'],
  ])('is told of what is no %s', async (_, change, words) => {
    const { problems } = await load({ 'conventions.yaml': '{}' }, { 'own.mjs': { ...OWN, ...change } });
    expect(said(problems)[0]).toContain(words);
    const right = { ...OWN, brief: 'no label', harm: { error: 'later' } };
    expect((await load({ 'conventions.yaml': '{}' }, { 'own.mjs': right })).problems).toEqual([]);
  });

  it('is told of a module that the command line names by its path', async () => {
    const { problems } = await load({ 'conventions.yaml': '{}' }, { 'own.mjs': { ...OWN, check: undefined } });
    expect(said(problems)).toEqual([
      'own.mjs 1:1 `conventions/no-cam` has no `check` function; export a rule, or a list of rules, as default (README.md shows one)',
    ]);
  });
});

describe('the schemas', () => {
  it.each(['profile', 'baseline'])('of a %s is a strict one', (name) => {
    const text = readFileSync(new URL(`../../schemas/${name}.schema.json`, import.meta.url), 'utf8');
    const schema = JSON.parse(text) as { readonly $id: string };
    expect(schema.$id).toBe(`https://rigproof.invalid/schemas/${name}.schema.json`);
    expect(() => new Ajv({ strict: true }).compile(schema)).not.toThrow();
  });
});

describe('a wrong name', () => {
  it.each([
    ['the right last part in another family', 'timing/two-senders', ['groups/two-senders']],
    ['a last part alone', 'two-senders', ['groups/two-senders']],
    ['a last part that two rules have', 'leg-map', ['groups/leg-map', 'sources/leg-map']],
    ['a slip in a last part alone', 'two-sendrs', ['groups/two-senders']],
    ['a slip in a whole name', 'group/two-sender', ['groups/two-senders']],
    ['nothing near', 'moon', []],
  ])('with %s', (_, text, meant) => {
    const ids = RULES.map(({ id }) => id);
    expect(meantBy(text, ids)).toEqual(meant);
  });
});
