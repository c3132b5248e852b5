/** A clock identity without quotes is a number to YAML (YAML 1.2.2 §10.3.2): the advice keeps what the file has. */
import { expect, it } from 'vitest';
import { readDocument } from '../../src/read/index.js';

const problemsOf = (written: string, end = '\n') =>
  readDocument({
    name: 'plan.yaml',
    text: ['devices:', '  - name: gm-1', `    ptp: {clockIdentity: ${written}}`, ''].join(end),
  }).problems;

it.each([
  ['leading zeros', '0200000000000011'],
  ['zeros alone', '0000000000000000'],
  ['more digits than a number holds', '9007199254740993'],
  ['digits that look like a power of ten', '02000000000000e1'],
])('as a number with %s is put in quotes as it stands', (_, written) => {
  for (const end of ['\n', '\r\n']) {
    const [problem, ...others] = problemsOf(written, end);
    expect(others).toEqual([]);
    expect(problem?.what).toBe(`\`clockIdentity\` is \`${written}\`, not text`);
    expect(problem?.instead).toContain(`put it in quotes: "${written}".`);
    expect(problem?.at).toMatchObject({ line: 3 });
  }
});
