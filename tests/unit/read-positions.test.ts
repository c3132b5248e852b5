/** Every value keeps its position to the column, in YAML as in JSON. Oracle for YAML: the npm library `yaml`. */
import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { isMap, isScalar, isSeq, LineCounter, parseDocument, type Node, type Scalar } from 'yaml';
import { readJson } from '../../src/read/json.js';
import { readYaml } from '../../src/read/yaml.js';
import type { TextDocument } from '../../src/source/text-document.js';
import { locate, locateAll } from '../../src/source/locate.js';

const EXAMPLES = fileURLToPath(new URL('../../examples', import.meta.url));

function read(name: string, text: string): TextDocument {
  const result = name.endsWith('.json') ? readJson(name, text) : readYaml(name, text);
  if (result.document === undefined) throw new Error(JSON.stringify(result.problems));
  return result.document;
}

function at(document: TextDocument, path: readonly (string | number)[]): readonly [number, number, string] {
  let container = document.value as Record<string | number, object>;
  for (const step of path.slice(0, -1)) container = container[step] as typeof container;
  const key = path.at(-1);
  const place = locate(key === undefined ? { document, container } : { document, container, key });
  const lines = document.text.split(/\r\n?|\n/);
  const line = lines[place.line - 1] ?? '';
  return [
    place.line,
    place.column,
    place.line === place.endLine ? line.slice(place.column - 1, place.endColumn - 1) : line.slice(place.column - 1),
  ];
}

describe('YAML positions', () => {
  const text = [
    '# comment',
    'rig: Heron',
    'devices:',
    '  - name: "cam 1"',
    "    area: 'north shore'",
    '    interfaces: [{name: red, address: 10.1.2.3/24}, {name: blue}]',
    '  - {name: cam-2,',
    '     area: south}',
    'formats:',
    '  - name: é-ü',
    '    frameRate: 60000/1001',
    '',
  ].join('\n');
  const document = read('plan.yaml', text);

  it.each([
    [['rig'], 2, 6, 'Heron'],
    [['devices', 0, 'name'], 4, 11, '"cam 1"'],
    [['devices', 0, 'area'], 5, 11, "'north shore'"],
    [['devices', 0, 'interfaces', 0, 'address'], 6, 39, '10.1.2.3/24'],
    [['devices', 0, 'interfaces', 1, 'name'], 6, 60, 'blue'],
    [['devices', 1, 'area'], 8, 12, 'south'],
    [['formats', 0, 'name'], 10, 11, 'é-ü'],
  ] as const)('%j', (path, line, column, shown) => {
    expect(at(document, path)).toEqual([line, column, shown]);
  });

  it.each([
    ['LF', '\n'],
    ['CRLF', '\r\n'],
  ])('are the same with %s line ends', (_, end) => {
    expect(at(read('plan.yaml', text.replaceAll('\n', end)), ['devices', 0, 'interfaces', 0, 'address'])).toEqual([
      6,
      39,
      '10.1.2.3/24',
    ]);
  });

  it('of an aliased value are those of its anchor', () => {
    const aliased = read('plan.yaml', 'kinds:\n  - &one {name: camera, area: shore}\ndevices:\n  - *one\n');
    expect(at(aliased, ['devices', 0, 'area'])).toEqual([2, 31, 'shore']);
  });

  it('can point at a key', () => {
    const place = locate({ document, container: document.value as object, key: 'devices', onKey: true });
    expect([place.line, place.column, place.endColumn]).toEqual([3, 1, 8]);
  });
});

describe('YAML positions agree with the library `yaml`', () => {
  const files = readdirSync(EXAMPLES, { recursive: true, encoding: 'utf8' }).filter((name) => name.endsWith('.yaml'));

  it.each(files)('%s', (file) => {
    compareWithOracle(readFileSync(`${EXAMPLES}/${file}`, 'utf8'));
  });
});

describe('JSON positions', () => {
  it('agree with the library `yaml` on any tree, indented or not', () => {
    const leaf = fc.oneof(
      fc.string({ maxLength: 12 }),
      fc.integer(),
      fc.boolean(),
      fc.constant(null),
      fc.double({ noNaN: true, noDefaultInfinity: true }),
    );
    const key = fc.string({ minLength: 1, maxLength: 8 }).filter((text) => text !== '__proto__');
    const { tree } = fc.letrec((tie) => ({
      tree: fc.oneof(
        { depthSize: 'small' },
        leaf,
        fc.array(tie('tree'), { maxLength: 4 }),
        fc.dictionary(key, tie('tree'), { maxKeys: 4 }),
      ),
    }));
    fc.assert(
      fc.property(
        fc.dictionary(key, tree, { minKeys: 1, maxKeys: 4 }),
        fc.constantFrom(undefined, 1, 2, '\t'),
        (value, indent) => {
          const text = JSON.stringify(value, undefined, indent);
          const document = read('plan.json', text);
          for (const { container, name, child } of containersOf(document.value)) {
            const spans = document
              .spans(new Set([container]))
              .get(container)
              ?.entries.get(name);
            expect(spans).toBeDefined();
            expect(JSON.parse(text.slice(spans?.value.start, spans?.value.end))).toEqual(child);
            if (typeof name === 'string') expect(JSON.parse(text.slice(spans?.key?.start, spans?.key?.end))).toBe(name);
          }
        },
      ),
      { numRuns: 300 },
    );
  });
});

function containersOf(
  root: unknown,
): readonly { readonly container: object; readonly name: string | number; readonly child: unknown }[] {
  if (typeof root !== 'object' || root === null) return [];
  const entries = Array.isArray(root) ? root.map((child, index) => [index, child] as const) : Object.entries(root);
  return entries.flatMap(([name, child]) => [
    { container: root, name, child: child as unknown },
    ...containersOf(child),
  ]);
}

function compareWithOracle(text: string): void {
  const document = read('plan.yaml', text);
  const counter = new LineCounter();
  const oracle = parseDocument(text, { lineCounter: counter });
  const expected: {
    readonly container: object;
    readonly key: string | number;
    readonly line: number;
    readonly column: number;
  }[] = [];
  const walk = (node: Node | null | undefined, value: unknown): void => {
    if (typeof value !== 'object' || value === null) return;
    const pairs: (readonly [string | number, Node | null])[] = isMap(node)
      ? node.items.map((pair) => [String((pair.key as Scalar).value), pair.value as Node | null] as const)
      : isSeq(node)
        ? node.items.map((item, index) => [index, item as Node] as const)
        : [];
    for (const [key, child] of pairs) {
      const start = child?.range?.[0];
      if (start === undefined || child === null) continue;
      const { line, col } = counter.linePos(start);
      if (isScalar(child) || isMap(child) || isSeq(child)) expected.push({ container: value, key, line, column: col });
      walk(child, (value as Record<string | number, unknown>)[key]);
    }
  };
  walk(oracle.contents, document.value);
  expect(expected.length).toBeGreaterThan(20);
  const places = expected.map(({ container, key }) => ({ document, container, key }));
  const located = locateAll(places);
  expect(places.map((place) => [located(place).line, located(place).column])).toEqual(
    expected.map(({ line, column }) => [line, column]),
  );
}
