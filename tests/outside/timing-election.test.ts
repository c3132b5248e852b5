/**
 * Elections as real daemons held them: linuxptp 3.1.1, software timestamps, Linux bridges between network namespaces.
 * The cases and their results were measured there; `tests/twin/ptp.test.ts` measures them again where it can.
 */
import { describe, expect, it } from 'vitest';
import { elect } from '../../src/model/timing/election.js';
import { clocksOf, told, type Wish } from '../tools/election-sets.js';

const GNSS = { clockClass: 6, clockAccuracy: 0x21 };

function outcome(wishes: Readonly<Record<string, Wish>>): Readonly<Record<string, string>> {
  const { outcomes, settled } = elect(clocksOf(wishes));
  expect(settled).toBe(true);
  return told(outcomes.values());
}

describe('clocks on one path', () => {
  const a = { id: 0x0a, on: ['x'] };
  const b = { id: 0x0b, on: ['x'] };
  const c = { id: 0x0c, on: ['x'] };

  it('A: all at default, the lowest identity leads', () => {
    expect(outcome({ a, b, c })).toEqual({ a: 'master', b: 'a 1: slave', c: 'a 1: slave' });
  });

  it('B: priority1 outranks a satellite clock, which turns passive', () => {
    expect(outcome({ a, b: { ...b, priority1: 127 }, c: { ...c, clockClass: 6 } })).toEqual({
      a: 'b 1: slave',
      b: 'master',
      c: 'passive',
    });
  });

  it('C: class before accuracy', () => {
    expect(
      outcome({ a, b: { ...b, clockClass: 7, clockAccuracy: 0x21 }, c: { ...c, clockClass: 6, clockAccuracy: 0x23 } }),
    ).toEqual({ a: 'c 1: slave', b: 'passive', c: 'master' });
  });

  it('D: priority2 between equals', () => {
    expect(outcome({ a, b: { ...b, ...GNSS, priority2: 127 }, c: { ...c, ...GNSS, priority2: 126 } })).toEqual({
      a: 'c 1: slave',
      b: 'passive',
      c: 'master',
    });
  });

  it('E: accuracy before variance and priority2', () => {
    const better = { ...b, clockClass: 6, clockAccuracy: 0x20, offsetScaledLogVariance: 0xffff, priority2: 255 };
    const worse = { ...c, clockClass: 6, clockAccuracy: 0x21, offsetScaledLogVariance: 0x4e5d, priority2: 1 };
    expect(outcome({ a, b: better, c: worse })).toEqual({ a: 'b 1: slave', b: 'master', c: 'passive' });
  });

  it('F: none may lead, all listen for ever', () => {
    expect(
      outcome({ a: { ...a, slaveOnly: true }, b: { ...b, slaveOnly: true }, c: { ...c, slaveOnly: true } }),
    ).toEqual({ a: 'listening', b: 'listening', c: 'listening' });
  });

  it('G: each domain elects by itself', () => {
    expect(outcome({ a, c: { ...c, clockClass: 6 } })).toEqual({ a: 'c 1: slave', c: 'master' });
    expect(outcome({ b })).toEqual({ b: 'master' });
  });

  it('L: two rigs joined, a free-running clock with a low priority1 takes both', () => {
    expect(outcome({ a, b, g: { id: 0x10, on: ['x'], priority1: 10 }, h: { id: 0x11, on: ['x'], ...GNSS } })).toEqual({
      a: 'g 1: slave',
      b: 'g 1: slave',
      g: 'master',
      h: 'passive',
    });
  });
});

describe('a chain of boundary clocks', () => {
  const g = { id: 0x10, on: ['top'], ...GNSS, priority1: 10 };
  const h = { id: 0x11, on: ['top'], ...GNSS, priority1: 20 };
  const u = { id: 0x50, on: ['top', 'middle'], boundary: true };
  const v = { id: 0x60, on: ['middle', 'edge'], boundary: true };
  const f = { id: 0x70, on: ['middle'] };
  const k = { id: 0x80, on: ['edge'] };

  it('H: steps count the boundary clocks between', () => {
    expect(outcome({ g, h, u, v, f, k })).toEqual({
      g: 'master',
      h: 'passive',
      u: 'g 1: slave master',
      v: 'u 2: slave master',
      f: 'u 2: slave',
      k: 'v 3: slave',
    });
  });

  it('H2: the grandmaster killed, everyone on the second', () => {
    expect(outcome({ h, u, v, f, k })).toEqual({
      h: 'master',
      u: 'h 1: slave master',
      v: 'u 2: slave master',
      f: 'u 2: slave',
      k: 'v 3: slave',
    });
  });

  it('H3: both killed, a boundary clock leads', () => {
    expect(outcome({ u, v, f, k })).toEqual({
      u: 'master master',
      v: 'u 1: slave master',
      f: 'u 1: slave',
      k: 'v 2: slave',
    });
  });

  const plain = { g: { ...g, priority1: 128 }, h: { ...h, priority1: 128 }, u, v, f };

  it('I: a camera behind the last boundary clock turns the tree round', () => {
    expect(outcome({ ...plain, k: { ...k, priority1: 127 } })).toEqual({
      k: 'master',
      v: 'k 1: master slave',
      u: 'v 2: master slave',
      f: 'v 2: slave',
      g: 'passive',
      h: 'passive',
    });
  });

  it('J: a port that only leads keeps the camera out', () => {
    const guarded = { ...v, on: ['middle', 'edge!'] };
    expect(outcome({ ...plain, v: guarded, k: { ...k, priority1: 127 } })).toEqual({
      g: 'master',
      h: 'passive',
      u: 'g 1: slave master',
      v: 'u 2: slave master',
      f: 'u 2: slave',
      k: 'master',
    });
  });

  it('K: a port that only leads does not protect its neighbours on the path', () => {
    const guarded = { ...u, on: ['top', 'middle!'] };
    expect(outcome({ ...plain, u: guarded, f: { ...f, priority1: 127 }, k })).toEqual({
      g: 'master',
      h: 'passive',
      u: 'g 1: slave master',
      f: 'master',
      v: 'f 1: slave master',
      k: 'v 2: slave',
    });
  });
});

describe('two ways to one grandmaster', () => {
  const g = { id: 0x10, on: ['top'], ...GNSS, priority1: 10 };
  const u = { id: 0x50, on: ['top', 'left'], boundary: true };
  const v = { id: 0x60, on: ['top', 'right'], boundary: true };
  const w = { id: 0x70, on: ['left', 'right'], boundary: true };

  it('M: equal paths, the lower sender wins and the other port is passive', () => {
    expect(outcome({ g, u, v, w })).toMatchObject({
      u: 'g 1: slave master',
      v: 'g 1: slave master',
      w: 'u 2: slave passive',
    });
  });

  it('M: one uplink lost, the leaf follows the other way and feeds the cut one back', () => {
    expect(outcome({ g, u: { ...u, on: ['dark', 'left'] }, v, w })).toMatchObject({
      w: 'v 2: master slave',
      u: 'w 3: master slave',
    });
  });

  it('N: the shorter way wins, the longer one is passive where the listener has the higher identity', () => {
    expect(outcome({ g, v, w: { ...w, on: ['top', 'right'] } })).toMatchObject({
      v: 'g 1: slave master',
      w: 'g 1: slave passive',
    });
  });
});

describe('a boundary clock with a claim of its own', () => {
  const g = { id: 0x10, on: ['top'], ...GNSS, priority1: 10 };
  const u = { id: 0x50, on: ['top', 'below'], boundary: true };
  const f = { id: 0x70, on: ['below'] };

  it('O: class 6 makes two times in one domain', () => {
    expect(outcome({ g, u: { ...u, clockClass: 6 }, f })).toEqual({
      g: 'master',
      u: 'passive master',
      f: 'u 1: slave',
    });
  });

  it('P: class 187 follows and passes on', () => {
    expect(outcome({ g, u: { ...u, clockClass: 187 }, f })).toEqual({
      g: 'master',
      u: 'g 1: slave master',
      f: 'u 2: slave',
    });
  });

  it('Q: an expired clock with the lower priority1 keeps the lead', () => {
    expect(outcome({ g: { ...g, clockClass: 52 }, u: { ...u, priority1: 20, clockClass: 6 }, f })).toEqual({
      g: 'master',
      u: 'passive master',
      f: 'u 1: slave',
    });
  });
});
