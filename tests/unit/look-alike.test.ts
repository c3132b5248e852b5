import { describe, expect, it } from 'vitest';
import { lookOf, spellingOf } from '../../src/model/written/look-alike.js';

describe('spelling', () => {
  it.each([
    ['cam-1', 'Cam_01'],
    ['cam 1', 'cam1'],
    ['RED-VIDEO', 'red video'],
    ['mic.7', 'mic–007'],
    ['cam-10', 'CAM 010'],
    ['ｃａｍ-1', 'cam-1'], // full-width letters: Unicode NFKC, UAX #15
    ['cam\u00AD-1', 'cam-1'], // soft hyphen: Default_Ignorable_Code_Point
    ['cafe\u0301', 'caf\u00E9'], // composed and decomposed: UAX #15
  ])('%s is %s', (a, b) => {
    expect(spellingOf(a)).toBe(spellingOf(b));
  });

  it.each([
    ['cam-1', 'cam-2'],
    ['cam-1', 'cam-10'],
    ['cam-1-1', 'cam-11'],
    ['cam-0', 'cam-00-1'],
    ['cam-100', 'cam-1'],
    ['left', 'lift'],
    ['cafe', 'café'],
    ['red', 'blue'],
  ])('%s is not %s', (a, b) => {
    expect(spellingOf(a)).not.toBe(spellingOf(b));
  });
});

describe('look', () => {
  /** Pairs of confusables.txt, Unicode Technical Standard #39; from memory. */
  it.each([
    ['cam-1', 'cam-l'],
    ['cam-1', 'cam-I'],
    ['cam-O1', 'cam-01'],
    ['\u0441\u0430m', 'cam'], // Cyrillic es, a
    ['\u0420\u0422\u0420', 'PTP'], // Cyrillic er, te, er
    ['\u0391udio', 'Audio'], // Greek capital alpha
    ['n\u03BFde', 'node'], // Greek omicron
    ['cam\u200B-1', 'cam-1'], // zero width space
    ['𝐜am', 'cam'], // mathematical bold: NFKC
  ])('%s is %s', (a, b) => {
    expect(lookOf(a)).toBe(lookOf(b));
  });

  it.each([
    ['cam-1', 'cam-7'],
    ['cam-1', 'cam-i'],
    ['pool-1', 'pol-1'],
    ['mono1', 'mon1'],
    ['cam-1-1', 'cam-11'],
    ['left', 'lift'],
    ['камера', 'camera'],
  ])('%s is not %s', (a, b) => {
    expect(lookOf(a)).not.toBe(lookOf(b));
  });

  it('keeps a numbered series apart in both keys', () => {
    const names = Array.from({ length: 2000 }, (_, index) => `cam-${index}`);
    expect(new Set(names.map(lookOf)).size).toBe(names.length);
    expect(new Set(names.map(spellingOf)).size).toBe(names.length);
  });
});
