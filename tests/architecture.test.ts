/**
 * The architecture is one-way: media → read → plan → model → lint and rules → report → command line; the disk and the
 * terminal stand at the edge. This test reads the imports
 * of every module and refuses any that points the other way, any circle, and any rule or reporter that touches the
 * outside world.
 *
 * Longer than a file should be: the table of who may ask whom stands in one place.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join, relative, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { RULES } from '../rules/index.js';
import { ruleFolders } from './rules/load.js';

const ROOT = fileURLToPath(new URL('..', import.meta.url));

/** What each part may import, besides itself, and why. */
const MAY_IMPORT: Readonly<Record<string, { readonly parts: readonly string[]; readonly why: string }>> = {
  collections: { parts: [], why: 'grouping and ordering know nothing of plans' },
  source: { parts: ['collections'], why: 'documents and positions know nothing of plans' },
  values: { parts: ['collections'], why: 'addresses and quantities are plain numbers' },
  media: {
    parts: ['collections', 'source', 'values'],
    why: 'what a format sends is known from the format alone, whatever plan it stands in',
  },
  read: {
    parts: ['collections', 'source', 'values', 'media', 'schemas'],
    why: 'readers turn text into trees; they do not judge',
  },
  plan: { parts: ['collections', 'source', 'values', 'media', 'read'], why: 'resolving sees trees and gives a plan' },
  model: { parts: ['collections', 'values', 'media', 'plan'], why: 'the model is a pure function of the plan' },
  words: {
    parts: ['collections', 'source', 'values', 'plan', 'media', 'model'],
    why: 'words are put to values and to what the model says; nothing is judged',
  },
  edits: {
    parts: ['collections', 'source', 'values', 'plan', 'model'],
    why: 'what entries of a plan are to say from now on, as data; nothing is written and nothing judged',
  },
  lint: {
    parts: ['collections', 'source', 'values', 'read', 'plan', 'model', 'edits', 'words'],
    why: 'the engine runs the rules it is given and never names one',
  },
  profile: {
    parts: ['source', 'read', 'model', 'lint'],
    why: 'how conventions judges is read once, for every command that judges',
  },
  splice: {
    parts: ['collections', 'source', 'values', 'read', 'edits'],
    why: 'values are written into text; no plan is judged',
  },
  compare: {
    parts: ['collections', 'source', 'values', 'plan', 'model', 'words'],
    why: 'changes are told from two plans',
  },
  answers: {
    parts: ['collections', 'source', 'values', 'plan', 'media', 'model', 'words', 'lint', 'compare'],
    why: 'an answer asks the model one question of a loaded plan, or media of a format, and may hold it against findings; nothing is worded',
  },
  mend: {
    parts: ['collections', 'source', 'read', 'plan', 'lint', 'edits', 'splice'],
    why: 'cures are carried out on documents and judged with the rules it is given; nothing is worded',
  },
  merge: {
    parts: ['collections', 'source', 'values', 'read', 'plan', 'model', 'words', 'lint', 'edits', 'splice', 'compare'],
    why: 'joining rigs judges them with the rules it is given',
  },
  allocate: {
    parts: ['collections', 'source', 'values', 'read', 'plan', 'media', 'model', 'words'],
    why: 'a plan is made from a request; whether it is clean the rules say',
  },
  disk: { parts: [], why: 'what touches files knows nothing of what is in them' },
  edge: {
    parts: ['collections', 'disk', 'source', 'read', 'plan'],
    why: 'the disk and the terminal know nothing of rigs',
  },
  doors: {
    parts: ['collections', 'source', 'values', 'plan', 'media', 'model', 'edits', 'words', 'lint'],
    why: 'what rules may ask for, listed name by name',
  },
  rules: {
    parts: ['doors'],
    why: 'rules ask the model through doors: src/doors/rule.ts, that of their family, and src/doors/cures.ts',
  },
  page: { parts: [], why: 'what a report says is plain data, whatever it is about and however it is drawn' },
  draw: { parts: ['page'], why: 'a drawing knows pages, tables and data, and nothing of what they are about' },
  report: {
    parts: [
      'answers',
      'collections',
      'page',
      'words',
      'lint',
      'source',
      'media',
      'model',
      'plan',
      'values',
      'compare',
      'edits',
      'splice',
      'mend',
      'merge',
      'allocate',
    ],
    why: 'reports say a result, or what the model says of one stream or failure, as data; they never draw it',
  },
  reporters: {
    parts: ['answers', 'page', 'report', 'draw', 'lint', 'source', 'media', 'plan', 'compare', 'mend', 'merge'],
    why: 'here alone what is said meets how it is drawn',
  },
  cli: {
    parts: [
      'answers',
      'disk',
      'edge',
      'profile',
      'collections',
      'words',
      'lint',
      'read',
      'plan',
      'values',
      'media',
      'model',
      'page',
      'draw',
      'report',
      'reporters',
      'source',
      'rules',
      'splice',
      'compare',
      'mend',
      'merge',
      'allocate',
    ],
    why: 'the command line may use everything and is used by nothing',
  },
  engine: {
    parts: [
      'answers',
      'allocate',
      'lint',
      'media',
      'mend',
      'merge',
      'model',
      'plan',
      'profile',
      'read',
      'reporters',
      'rules',
    ],
    why: 'the engine is all that needs no disk and no terminal',
  },
  types: {
    parts: [
      'allocate',
      'collections',
      'compare',
      'doors',
      'edits',
      'lint',
      'media',
      'mend',
      'merge',
      'model',
      'page',
      'plan',
      'profile',
      'read',
      'report',
      'reporters',
      'source',
      'splice',
      'values',
      'words',
      'draw',
      'answers',
    ],
    why: 'the names of types, and nothing that runs',
  },
  index: {
    parts: ['engine', 'edge'],
    why: 'the library entry may use everything but the command line',
  },
};

/** Packages, and who may use them. */
const PACKAGES: Readonly<Record<string, readonly string[]>> = {
  'js-yaml': ['read', 'splice'],
  'ip-address': ['values'],
  commander: ['cli'],
  '@noble/hashes/sha2.js': ['report'],
  '@noble/hashes/utils.js': ['report'],
  'get-east-asian-width': ['draw'],
  esbuild: ['src/edge/build-program.ts'],
  ajv: ['src/read/checks/compile.ts', 'src/edge/build-checks.ts'],
  'ajv/dist/standalone/index.js': ['src/edge/build-checks.ts'],
};

/** What reads and writes files, in whatever form. */
const FILES = /^node:(?:fs|fs\/promises|child_process|worker_threads|module)$/;

/** The thread that shows that a command works: it writes to the terminal alone. */
const THREADS = new Set(['src/edge/progress.ts', 'src/edge/progress-line.ts']);

interface Module {
  readonly path: string;
  readonly part: string;
  readonly imports: readonly string[];
  readonly local: readonly string[];
}

const MODULES = [...modulesBelow('src'), ...modulesBelow('rules')];

describe('imports', () => {
  it.each(MODULES.map((module) => [module.path, module] as const))('%s keeps to its direction', (_, module) => {
    const allowed = MAY_IMPORT[module.part];
    expect(allowed, `src/${module.part} is no part of the architecture`).toBeDefined();
    for (const target of module.local) {
      const part = partOf(target);
      if (part === module.part) continue;
      expect(allowed?.parts, `${module.path} imports ${target}: ${allowed?.why ?? ''}`).toContain(part);
      if (part === 'doors') {
        const family = module.path.split('/')[1] ?? '';
        const own = ['src/doors/rule.ts', 'src/doors/cures.ts', `src/doors/${family}.ts`];
        expect(own, `${module.path} imports ${target}`).toContain(target);
      }
    }
  });

  it('form no circle', () => {
    const byPath = new Map(MODULES.map((module) => [module.path, module]));
    const done = new Set<string>();
    const circles: string[] = [];
    const visit = (path: string, trail: readonly string[]): void => {
      if (trail.includes(path)) circles.push([...trail.slice(trail.indexOf(path)), path].join(' → '));
      if (done.has(path) || trail.includes(path)) return;
      for (const next of byPath.get(path)?.local ?? []) visit(next, [...trail, path]);
      done.add(path);
    };
    for (const { path } of MODULES) visit(path, []);
    expect(circles).toEqual([]);
  });

  it('reach the outside world at the edge alone, and packages where they are wanted', () => {
    const asked = new Set<string>();
    for (const { path, part, imports } of MODULES) {
      for (const name of imports) {
        asked.add(name);
        if (name.startsWith('node:')) {
          expect(['disk', 'edge'], `${path} imports ${name}: only src/edge and src/disk touch the system`).toContain(
            part,
          );
          if (FILES.test(name) && !(name === 'node:worker_threads' && THREADS.has(path)))
            expect(part, `${path} imports ${name}: only src/disk touches files`).toBe('disk');
        } else
          expect(
            PACKAGES[name]?.some((where) => where === part || where === path),
            `${path} imports ${name}`,
          ).toBe(true);
      }
    }
    expect([...asked], 'a package nobody uses').toEqual(expect.arrayContaining(Object.keys(PACKAGES)));
  });

  it('are all there is: no clock, chance, network or evaluation in anything pure', () => {
    for (const module of MODULES) {
      if (['cli', 'disk', 'edge'].includes(module.part)) continue;
      const code = readFileSync(join(ROOT, module.path), 'utf8').replace(/\/\*[\s\S]*?\*\/|\/\/.*/g, '');
      expect(code, module.path).not.toMatch(
        /\b(Date\.now|new Date\(\)|Math\.random|fetch\(|eval\(|new Function|process\.|import\()/,
      );
    }
  });
});

describe('the rooms of the model', () => {
  const inside = MODULES.filter(({ path }) => roomOf(path) !== undefined);

  it.each(MODULES.map((module) => [module.path, module] as const))(
    '%s enters them by their index',
    (path, { local }) => {
      for (const target of local) {
        const room = roomOf(target);
        if (room !== undefined && room !== roomOf(path)) expect(target, path).toBe(`src/model/${room}/index.ts`);
      }
    },
  );

  it('each say which question they answer', () => {
    for (const room of new Set(inside.map(({ path }) => roomOf(path) ?? '')))
      expect(readFileSync(join(ROOT, `src/model/${room}/index.ts`), 'utf8'), room).toMatch(/^\/\*\* [^*]*\? \*\//);
  });

  it('do not ask each other in a circle', () => {
    const asks = new Map<string, Set<string>>();
    for (const { path, local } of inside) {
      const room = roomOf(path) ?? '';
      const others = local.flatMap((target) => roomOf(target) ?? []).filter((other) => other !== room);
      asks.set(room, new Set([...(asks.get(room) ?? []), ...others]));
    }
    const reaches = (from: string, to: string, seen = new Set<string>()): boolean =>
      [...(asks.get(from) ?? [])].some(
        (next) => next === to || (!seen.has(next) && reaches(next, to, new Set([...seen, next]))),
      );
    expect([...asks.keys()].filter((room) => reaches(room, room))).toEqual([]);
  });
});

function roomOf(path: string): string | undefined {
  return /^src\/model\/([a-z]+)\//.exec(path)?.[1];
}

describe('the length of files', () => {
  it('stays within 350 lines, but for those that say at their head why not', () => {
    const all = [...MODULES.map(({ path }) => path), ...modulesBelow('tests').map(({ path }) => path)];
    const long = all.filter((path) => {
      const text = readFileSync(join(ROOT, path), 'utf8');
      const head = text.slice(0, text.indexOf('*/'));
      return text.split('\n').length > 351 && !/\blong(er)?\b/i.test(head);
    });
    expect(long).toEqual([]);
  });
});

describe('the doors', () => {
  const doors = MODULES.filter(({ part }) => part === 'doors').map(({ path }) => [path, namesOf(path)] as const);
  const used = new Map<string, Set<string>>();
  for (const { path } of MODULES.filter(({ part }) => part === 'rules')) {
    const family = path.split('/')[1] ?? '';
    for (const name of importedFromDoors(path)) used.set(name, (used.get(name) ?? new Set()).add(family));
  }

  it('are explicit: no door hands on whatever a module holds', () => {
    for (const [path] of doors) expect(readFileSync(join(ROOT, path), 'utf8'), path).not.toMatch(/export (type )?\*/);
  });

  const common = ['src/doors/rule.ts', 'src/doors/cures.ts'];
  it.each(doors.filter(([path]) => !common.includes(path)))(
    '%s holds what that family alone asks for',
    (path, names) => {
      const family = path.slice('src/doors/'.length, -'.ts'.length);
      for (const name of names) expect([...(used.get(name) ?? [])], name).toEqual([family]);
    },
  );

  it('hold one for cures, of what somebody asks for', () => {
    const [, names = []] = doors.find(([path]) => path === 'src/doors/cures.ts') ?? [];
    expect(names.filter((name) => !used.has(name))).toEqual([]);
    expect(names.length).toBeLessThan(40);
  });

  it('hold one for all, of what several families ask for and of the types that rules are made of', () => {
    const [, names = []] = doors.find(([path]) => path === 'src/doors/rule.ts') ?? [];
    const rare = names.filter((name) => (used.get(name)?.size ?? 0) < 2);
    expect(rare.filter((name) => !MADE_OF.includes(name))).toEqual([]);
    expect(names.length).toBeLessThan(120);
  });
});

/** Types that convention rules in TypeScript name, though few of the built-in rules do. */
const MADE_OF = [
  'Rule',
  'RuleContext',
  'Threshold',
  'WaiverUse',
  'FindingDraft',
  'FindingWords',
  'Mark',
  'Severity',
  'Confidence',
  'Touch',
  'TouchKind',
  'Citation',
  'Model',
  'FactKey',
  'Plan',
  'Rig',
  'Waiver',
];

function namesOf(path: string): readonly string[] {
  const text = readFileSync(join(ROOT, path), 'utf8');
  return [...text.matchAll(/^export (?:type )?\{([^}]*)\}/gm)].flatMap(([, names = '']) => listed(names));
}

function importedFromDoors(path: string): readonly string[] {
  const text = readFileSync(join(ROOT, path), 'utf8');
  const imports = text.matchAll(/^import (?:type )?\{([^}]*)\} from '[^']*src\/doors\/[a-z]+\.js'/gm);
  return [...imports].flatMap(([, names = '']) => listed(names));
}

function listed(names: string): readonly string[] {
  return names
    .split(',')
    .map((name) => name.trim().replace(/^type /, ''))
    .filter((name) => name !== '');
}

describe('the rule index', () => {
  it('holds every rule folder once, in the order of names', () => {
    const folders = ruleFolders('all');
    const ids = folders.map((folder) => folder.id).sort((a, b) => (a < b ? -1 : 1));
    expect(ids.length).toBeGreaterThan(0);
    expect(RULES.map((rule) => rule.id)).toEqual(ids);
  });
});

function modulesBelow(folder: string): readonly Module[] {
  return readdirSync(join(ROOT, folder), { recursive: true, encoding: 'utf8' })
    .filter((name) => name.endsWith('.ts'))
    .sort()
    .map((name) => {
      const path = join(folder, name);
      const names = importsOf(readFileSync(join(ROOT, path), 'utf8'));
      const local = names
        .filter((one) => one.startsWith('.'))
        .map((one) => relative(ROOT, resolve(dirname(join(ROOT, path)), one.replace(/\.js$/, '.ts'))));
      return { path, part: partOf(path), imports: names.filter((one) => !one.startsWith('.')), local };
    });
}

/** Types too: a type that points the wrong way is a wrong direction. */
function importsOf(text: string): readonly string[] {
  const patterns = [
    /^(?:import|export)\s[^;'"]*?\sfrom\s+['"]([^'"]+)['"]/gm,
    /^import\s+['"]([^'"]+)['"]/gm,
    /\bimport\(['"]([^'"]+)['"]\)/g,
  ];
  return patterns.flatMap((pattern) => [...text.matchAll(pattern)].map((match) => match[1] ?? ''));
}

function partOf(path: string): string {
  if (path.startsWith('rules/')) return 'rules';
  if (path.startsWith('schemas/')) return 'schemas';
  const [, part = ''] = path.split('/');
  return part.endsWith('.ts') ? part.slice(0, -3) : part;
}
