/**
 * Plans that are large in one direction take time in proportion to it, whatever the direction: the small version of
 * `npm run bench:shapes`. Common practice, no source: n log n is what a linter may take.
 */
import { describe, expect, it } from 'vitest';
import { load } from '../../src/engine.js';
import { growth, LINEAR } from '../tools/growth.js';
import { COMMANDS } from '../tools/shape-commands.js';
import { SHAPES } from '../tools/shape-plans.js';

const SIZE = 800;

/** Commands beside `lint` where a shape is what they are about. */
const ALSO: readonly (readonly [shape: string, command: string])[] = [
  ['pairs on one switch', 'failures'],
  ['pairs on one switch', 'sheets'],
  ['pairs on one switch', 'diff'],
  ['pairs on one switch', 'delay'],
  ['a ring of switches', 'failures'],
  ['a star of switches', 'failures'],
  ['a star of boundary clocks', 'clocks'],
  ['a grid of switches', 'trace'],
  ['a chain of switches', 'trace'],
  ['one device with all streams', 'failures'],
  ['one stream to all', 'trace'],
  ['unknown references', 'machine'],
];

describe('time in proportion to size', () => {
  const pairs = [...SHAPES.map(({ name }) => [name, 'lint'] as const), ...ALSO];
  it.each(pairs)('%s: %s', (name, command) => {
    const shape = SHAPES.find((one) => one.name === name);
    const run = COMMANDS.get(command);
    if (shape === undefined || run === undefined) throw new Error(`no ${name} or no ${command}`);
    // What is refused takes no time at all.
    expect(load({ inputs: shape.make(SIZE), problems: [] }).whole).toBe(shape.unread !== true);
    expect(growth(SIZE, shape.make, run)).toBeLessThan(LINEAR);
  });
});
