/** Port rates: those of IEEE 802.3-2022 that are common in switches (common practice, no source, for which they are). */
import { describe, expect, it } from 'vitest';
import { nextPortRate } from '../../src/model/network/port-rates.js';

describe('the next common port rate', () => {
  it.each([
    [1, 1e9],
    [1e9, 1e9],
    [1e9 + 1, 10e9],
    [10.01e9, 25e9],
    [25.1e9, 40e9],
    [40.1e9, 100e9],
    [100.1e9, 200e9],
    [200.1e9, 400e9],
    [400e9, 400e9],
  ])('for %d bit/s is %d', (neededBps, rateBps) => {
    expect(nextPortRate(neededBps)).toBe(rateBps);
  });

  it('is unknown above the fastest', () => {
    expect(nextPortRate(400e9 + 1)).toBeUndefined();
  });
});
