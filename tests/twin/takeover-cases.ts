/** Shapes of clocks in labs, and what is taken from them. */
import type { Cable, LabSet } from './ptp-lab.js';

const GNSS = { clockClass: 6, clockAccuracy: 0x21 };
const G = { id: 0x10, ...GNSS, priority1: 10 };
const H = { id: 0x11, ...GNSS, priority1: 20 };
/** Alike but for their identity: the one that keeps its reference wins. */
const EVEN = { priority1: 10 };
const F = { id: 0x70, slaveOnly: true };
const K = { id: 0x80, slaveOnly: true };
const boundary = (id: number, ...on: readonly string[]): LabSet[string] => ({ id, on, boundary: true });

export const SHAPES = {
  'one segment': { g: { ...G, on: ['x'] }, h: { ...H, on: ['x'] }, f: { ...F, on: ['x'] } },
  'both on one boundary clock': {
    g: { ...G, on: ['g'] },
    h: { ...H, on: ['h'] },
    u: boundary(0x50, 'g', 'h', 'f'),
    f: { ...F, on: ['f'] },
  },
  'one each on two linked': {
    g: { ...G, on: ['g'] },
    h: { ...H, on: ['h'] },
    u: boundary(0x50, 'g', 'uv', 'f'),
    v: boundary(0x60, 'uv', 'h', 'k'),
    f: { ...F, on: ['f'] },
    k: { ...K, on: ['k'] },
  },
  'chain of three': {
    g: { ...G, on: ['g'] },
    h: { ...H, on: ['h'] },
    u: boundary(0x50, 'g', 'uv', 'f'),
    v: boundary(0x60, 'uv', 'vw'),
    w: boundary(0x61, 'vw', 'h', 'k'),
    f: { ...F, on: ['f'] },
    k: { ...K, on: ['k'] },
  },
  'chain of four': {
    g: { ...G, on: ['g'] },
    h: { ...H, on: ['h'] },
    u: boundary(0x50, 'g', 'uv', 'f'),
    v: boundary(0x60, 'uv', 'vw'),
    w: boundary(0x61, 'vw', 'wx'),
    x: boundary(0x62, 'wx', 'h', 'k'),
    f: { ...F, on: ['f'] },
    k: { ...K, on: ['k'] },
  },
  'two spines, one leaf': {
    g: { ...G, on: ['g'] },
    h: { ...H, on: ['h'] },
    u: boundary(0x50, 'g', 'ul'),
    v: boundary(0x60, 'h', 'vl'),
    w: boundary(0x61, 'ul', 'vl', 'f'),
    f: { ...F, on: ['f'] },
  },
  'two spines, three leaves': {
    g: { ...G, on: ['g'] },
    h: { ...H, on: ['h'] },
    u: boundary(0x50, 'g', 'ua', 'ub', 'uc'),
    v: boundary(0x51, 'h', 'va', 'vb', 'vc'),
    a: boundary(0x60, 'ua', 'va', 'f'),
    b: boundary(0x61, 'ub', 'vb', 'k'),
    c: boundary(0x62, 'uc', 'vc'),
    f: { ...F, on: ['f'] },
    k: { ...K, on: ['k'] },
  },
  'ring of three': {
    g: { ...G, on: ['g'] },
    h: { ...H, on: ['h'] },
    u: boundary(0x50, 'g', 'uv', 'wu', 'f'),
    v: boundary(0x60, 'uv', 'vw'),
    w: boundary(0x61, 'vw', 'wu', 'h', 'k'),
    f: { ...F, on: ['f'] },
    k: { ...K, on: ['k'] },
  },
  star: {
    g: { ...G, on: ['g'] },
    h: { ...H, on: ['h'] },
    m: boundary(0x50, 'ma', 'mb', 'mc'),
    a: boundary(0x60, 'ma', 'g', 'f'),
    b: boundary(0x61, 'mb', 'h'),
    c: boundary(0x62, 'mc', 'k'),
    f: { ...F, on: ['f'] },
    k: { ...K, on: ['k'] },
  },
  'one segment, then two in line': {
    g: { ...G, on: ['x'] },
    h: { ...H, on: ['x'] },
    u: boundary(0x50, 'x', 'uv'),
    v: boundary(0x60, 'uv', 'f'),
    f: { ...F, on: ['f'] },
  },
  'two linked, alike': {
    g: { ...G, ...EVEN, on: ['g'] },
    h: { ...H, ...EVEN, on: ['h'] },
    u: boundary(0x50, 'g', 'uv', 'f'),
    v: boundary(0x60, 'uv', 'h', 'k'),
    f: { ...F, on: ['f'] },
    k: { ...K, on: ['k'] },
  },
} satisfies Readonly<Record<string, LabSet>>;

export type Loss =
  | { readonly what: 'clock'; readonly clock: string }
  | { readonly what: 'cable'; readonly cable: Cable }
  | { readonly what: 'switch'; readonly path: string }
  | { readonly what: 'reference'; readonly clock: string; readonly clockClass: number };

export const clock = (name: string): Loss => ({ what: 'clock', clock: name });
const cable = (name: string, port: number): Loss => ({ what: 'cable', cable: { clock: name, port } });

export const LOSSES: readonly (readonly [keyof typeof SHAPES, Loss])[] = [
  ...(Object.keys(SHAPES) as (keyof typeof SHAPES)[]).map((name) => [name, clock('g')] as const),
  ['one each on two linked', clock('u')],
  ['ring of three', clock('u')],
  ['two spines, three leaves', clock('u')],
  ['both on one boundary clock', cable('u', 0)],
  ['one each on two linked', cable('u', 0)],
  ['ring of three', cable('u', 1)],
  ['two spines, three leaves', cable('a', 0)],
  ['one segment, then two in line', { what: 'switch', path: 'x' }],
  ['two spines, one leaf', { what: 'switch', path: 'ul' }],
  ['two linked, alike', { what: 'reference', clock: 'g', clockClass: 52 }],
];

export function wordsOf(loss: Loss): string {
  switch (loss.what) {
    case 'clock':
      return loss.clock;
    case 'cable':
      return `the cable at port ${String(loss.cable.port + 1)} of ${loss.cable.clock}`;
    case 'switch':
      return `switch ${loss.path}`;
    case 'reference':
      return `the reference of ${loss.clock}`;
  }
}
