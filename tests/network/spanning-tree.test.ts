/**
 * The spanning tree against what Open vSwitch 3.1 (RSTP) settled on, topology by topology (V1 to V18 measured there), and
 * against a slow election by messages on random cablings (IEEE 802.1D-2004 §17.6: priority vectors).
 */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { byMessages } from './tree-by-messages.js';
import { pathCost, spanningTree, type TreeBridge, type TreeLink } from '../../src/model/network/spanning-tree.js';

/** A box: its priority, or how it runs no tree. */
type Box = number | 'passes' | 'drops';
/** Two boxes, and what each end is set to otherwise than by default. */
interface Cable {
  readonly between: string;
  readonly cost?: number | readonly [number, number];
  readonly priority?: readonly [number, number];
  readonly number?: readonly [number, number];
}

interface Cabling {
  readonly boxes: Readonly<Record<string, Box>>;
  readonly macs?: Readonly<Record<string, number>>;
  readonly cables: readonly (Cable | string)[];
  readonly cost?: number;
}

/** Ports are numbered in the order of the cables, addresses in the order of the boxes, where nothing else is said. */
function build({ boxes, macs, cables, cost = 2000 }: Cabling): {
  readonly names: readonly string[];
  readonly bridges: readonly TreeBridge[];
  readonly links: readonly TreeLink[];
} {
  const names = Object.keys(boxes);
  const bridges = names.map((name, index): TreeBridge => {
    const box = boxes[name] ?? 32768;
    return {
      runs: typeof box === 'number',
      passes: box === 'passes',
      priority: typeof box === 'number' ? box : 32768,
      mac: macs?.[name] ?? index + 1,
      stand: 0,
    };
  });
  const used = names.map(() => 0);
  const links = cables.map((entry): TreeLink => {
    const cable: Cable = typeof entry === 'string' ? { between: entry } : entry;
    const end = (side: 0 | 1): TreeLink['ends'][0] => {
      const bridge = names.indexOf(cable.between.split('-')[side] ?? '');
      const next = (used[bridge] = (used[bridge] ?? 0) + 1);
      const own = cable.cost;
      return {
        bridge,
        priority: cable.priority?.[side] ?? 128,
        number: cable.number?.[side] ?? next,
        cost: typeof own === 'number' ? own : (own?.[side] ?? cost),
      };
    };
    return { ends: [end(0), end(1)] };
  });
  return { names, bridges, links };
}

/** The roots, and each discarding port as `switch>other end, place of the cable, role`. */
function settled(cabling: Cabling): { readonly root: string; readonly blocked: readonly string[] } {
  const { names, bridges, links } = build(cabling);
  const { root, roles, guessed } = spanningTree(bridges, links);
  expect(guessed).toBe(false);
  const roots = new Set([...root].filter((one) => one !== -1).map((one) => names[one] ?? ''));
  return {
    root: [...roots].join(' '),
    blocked: links
      .flatMap(({ ends }, index) =>
        ([0, 1] as const).flatMap((side) => {
          const role = roles[index]?.[side];
          const name = (at: 0 | 1): string => names[ends[at].bridge] ?? '';
          return role === 'alternate' || role === 'backup'
            ? [`${name(side)}>${name(side === 0 ? 1 : 0)} ${index + 1} ${role}`]
            : [];
        }),
      )
      .sort(),
  };
}

const SQUARE = ['a-b', 'b-c', 'c-d', 'd-a'];
const TRIANGLE = ['a-b', 'b-c', 'a-c'];
const CORES = [
  { between: 'r-s', cost: 200 },
  ...['x', 'y', 'z'].flatMap((name) => [
    { between: `${name}-r`, cost: 800 },
    { between: `${name}-s`, cost: 800 },
  ]),
];

describe('the tree Open vSwitch settled on', () => {
  it.each<readonly [string, Cabling, string, readonly string[]]>([
    ['V1 triangle', { boxes: { a: 4096, b: 8192, c: 12288 }, cables: TRIANGLE }, 'a', ['c>b 2 alternate']],
    [
      'V2 square: lower bridge on an equal way',
      { boxes: { a: 4096, b: 32768, c: 32768, d: 32768 }, cables: SQUARE },
      'a',
      ['c>d 3 alternate'],
    ],
    [
      'V3 square: the neighbour counts, not the own priority',
      { boxes: { a: 4096, b: 32768, c: 8192, d: 28672 }, cables: SQUARE },
      'a',
      ['c>b 2 alternate'],
    ],
    [
      'V3b triangle: addresses alone',
      {
        boxes: { a: 32768, b: 32768, c: 32768 },
        macs: { a: 0x33, b: 0x22, c: 0x11 },
        cables: TRIANGLE,
      },
      'c',
      ['a>b 1 alternate'],
    ],
    ['V4 two links', { boxes: { a: 4096, b: 8192 }, cables: ['a-b', 'a-b'] }, 'a', ['b>a 2 alternate']],
    [
      'V5 port priority at the root',
      { boxes: { a: 4096, b: 8192 }, cables: ['a-b', { between: 'a-b', priority: [64, 128] }] },
      'a',
      ['b>a 1 alternate'],
    ],
    [
      'V6 port priority at the far end: without effect',
      { boxes: { a: 4096, b: 8192 }, cables: ['a-b', { between: 'a-b', priority: [128, 64] }] },
      'a',
      ['b>a 2 alternate'],
    ],
    [
      'V6b port numbers swapped at the far end: without effect',
      {
        boxes: { a: 4096, b: 8192 },
        cables: [
          { between: 'a-b', number: [1, 2] },
          { between: 'a-b', number: [2, 1] },
        ],
      },
      'a',
      ['b>a 2 alternate'],
    ],
    [
      'V7 cost at the root does not count',
      {
        boxes: { a: 4096, b: 8192, c: 12288 },
        cables: ['a-b', 'b-c', { between: 'a-c', cost: [1, 200_000] }],
      },
      'a',
      ['c>a 3 alternate'],
    ],
    [
      'V8 cost at the far end does',
      {
        boxes: { a: 4096, b: 8192, c: 12288 },
        cables: ['a-b', 'b-c', { between: 'a-c', cost: [200_000, 1000] }],
      },
      'a',
      ['b>c 2 alternate'],
    ],
    [
      'V9 two fast hops beat a slow one',
      {
        boxes: { a: 4096, b: 8192, c: 12288 },
        cost: pathCost(100e9, 'long'),
        cables: ['a-b', 'b-c', { between: 'a-c', cost: pathCost(1e9, 'long') }],
      },
      'a',
      ['c>a 3 alternate'],
    ],
    [
      'V10 three fast hops beat 25G',
      {
        boxes: { a: 4096, b: 32768, c: 32768, d: 32768 },
        cost: pathCost(100e9, 'long'),
        cables: ['a-b', 'b-c', 'c-d', { between: 'd-a', cost: pathCost(25e9, 'long') }],
      },
      'a',
      ['d>a 4 alternate'],
    ],
    [
      'V11 and lose to 40G',
      {
        boxes: { a: 4096, b: 32768, c: 32768, d: 32768 },
        cost: pathCost(100e9, 'long'),
        cables: ['a-b', 'b-c', 'c-d', { between: 'd-a', cost: pathCost(40e9, 'long') }],
      },
      'a',
      ['d>c 3 alternate'],
    ],
    [
      'V12 two loops',
      {
        boxes: { a: 4096, b: 8192, c: 12288, d: 16384 },
        cables: ['a-b', 'a-c', 'b-d', 'c-d', 'b-c'],
      },
      'a',
      ['c>b 5 alternate', 'd>c 4 alternate'],
    ],
    [
      'V13 two cores: every second uplink waits',
      { boxes: { r: 4096, s: 8192, x: 32768, y: 32768, z: 32768 }, cables: CORES },
      'r',
      ['x>s 3 alternate', 'y>s 5 alternate', 'z>s 7 alternate'],
    ],
    [
      'V14 nobody sets a priority: an access switch is the root, and the link between the cores waits',
      {
        boxes: { r: 32768, s: 32768, x: 32768, y: 32768 },
        macs: { x: 1, s: 2, r: 3, y: 4 },
        cables: CORES.slice(0, 5),
      },
      'x',
      ['r>s 1 alternate', 'y>r 4 alternate'],
    ],
    [
      'V15 two ports into a box that passes BPDUs',
      { boxes: { a: 4096, u: 'passes' }, cables: ['a-u', 'a-u'] },
      'a',
      ['a>u 2 backup'],
    ],
    [
      'V16 a box that passes BPDUs between two switches, cabled first',
      { boxes: { a: 4096, b: 8192, u: 'passes' }, cables: ['a-u', 'b-u', 'a-b'] },
      'a',
      ['b>a 3 alternate'],
    ],
    ['V17 two ports into a box that drops BPDUs', { boxes: { a: 4096, u: 'drops' }, cables: ['a-u', 'a-u'] }, 'a', []],
    ['V18 no tree at all', { boxes: { a: 'drops', b: 'drops', c: 'drops' }, cables: TRIANGLE }, '', []],
  ])('%s', (_, cabling, root, blocked) => {
    expect(settled(cabling)).toEqual({ root, blocked });
  });
});

describe('the cost of a port', () => {
  it.each([
    [10e6, 2_000_000, 100],
    [100e6, 200_000, 19],
    [1e9, 20_000, 4],
    [10e9, 2_000, 2],
    [100e9, 200, 1],
    [1e12, 20, 1],
  ])(
    'of %d bit/s is %d, or %d of 16 bits (IEEE 802.1D-2004 table 17-3; IEEE 802.1D-1998 table 8-5: from memory)',
    (rate, long, short) => {
      expect([pathCost(rate, 'long'), pathCost(rate, 'short')]).toEqual([long, short]);
    },
  );

  it('of an aggregate is that of its sum (common practice, no source)', () => {
    expect(pathCost(2 * 10e9, 'long')).toBe(1_000);
  });
});

describe('addresses nobody knows', () => {
  const bridge = (priority: number, stand: number): TreeBridge => ({
    runs: true,
    passes: false,
    priority,
    mac: undefined,
    stand,
  });
  const link = (a: number, b: number, cost: number): TreeLink => ({
    ends: [
      { bridge: a, priority: 128, number: b, cost },
      { bridge: b, priority: 128, number: a, cost },
    ],
  });

  it('are a guess where they settle the root or an equal way, and none where they settle nothing', () => {
    const ring = [link(0, 1, 200), link(1, 2, 200), link(2, 3, 200), link(3, 0, 200)];
    const four = [bridge(4096, 0), bridge(32768, 1), bridge(32768, 2), bridge(32768, 3)];
    expect(
      spanningTree(
        four.map((one) => ({ ...one, priority: 32768 })),
        ring,
      ).guessed,
    ).toBe(true);
    expect(spanningTree(four, ring).guessed).toBe(true); // 2 reaches 0 equally over 1 and 3
    expect(spanningTree(four, [...ring.slice(0, 3), link(3, 0, 300)]).guessed).toBe(false);
    expect(spanningTree(four.slice(0, 3), [link(0, 1, 200), link(1, 2, 200), link(2, 0, 200)]).guessed).toBe(false);
  });
});

describe('the tree is what messages between the bridges settle on', () => {
  it('on random cablings, whatever is taken away', () => {
    const port = fc.record({
      priority: fc.constantFrom(0, 64, 128),
      cost: fc.constantFrom(1, 200, 200, 800, 2000),
    });
    let blocked = 0;
    fc.assert(
      fc.property(
        fc.integer({ min: 2, max: 7 }).chain((count) =>
          fc.record({
            boxes: fc.array(fc.constantFrom<Box>(4096, 8192, 32768, 32768, 'passes', 'drops'), {
              minLength: count,
              maxLength: count,
            }),
            macs: fc.shuffledSubarray([...Array.from({ length: count }).keys()], { minLength: count }),
            links: fc.array(fc.tuple(fc.nat(count - 1), fc.nat(count - 1), port, port), {
              minLength: 4,
              maxLength: 12,
            }),
            goneBridge: fc.nat(count),
            goneLink: fc.nat(13),
          }),
        ),
        ({ boxes, macs, links: drawn, goneBridge, goneLink }) => {
          const bridges = boxes.map((box, index): TreeBridge => ({
            runs: typeof box === 'number',
            passes: box === 'passes',
            priority: typeof box === 'number' ? box : 0,
            mac: macs[index] ?? 0,
            stand: 0,
          }));
          const links = drawn.flatMap(([a, b, x, y], index): TreeLink[] =>
            a === b
              ? []
              : [
                  {
                    ends: [
                      { ...x, bridge: a, number: index },
                      { ...y, bridge: b, number: index },
                    ],
                  },
                ],
          );
          const without = { bridges: new Set([goneBridge]), links: new Set([goneLink]) };
          const found = spanningTree(bridges, links, without);
          const slow = byMessages(bridges, links, without);
          expect(found.roles.map((own, index) => (slow[index] === undefined ? undefined : own))).toEqual(slow);
          expect([...found.forwards]).toEqual(
            slow.map((own) => (own === undefined || own.some((role) => /alternate|backup/.test(role)) ? 0 : 1)),
          );
          blocked += slow.filter((own) => own?.some((role) => /alternate|backup/.test(role))).length;
        },
      ),
      { numRuns: 2000 },
    );
    expect(blocked).toBeGreaterThan(500);
  });
});
