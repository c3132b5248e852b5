/**
 * Every published session description at hand, linted as one rig: none crashes a reader or a rule, every finding points
 * into a file, and the defects known to be in them are found.
 */
import { basename } from 'node:path';
import { describe, expect, it } from 'vitest';
import { RULES } from '../../rules/index.js';
import { lintInputs } from '../../src/lint/lint.js';
import { filesIn, skipped, textOf, unpublished } from '../tools/outside.js';

const missing = unpublished('sdp', 'nmos');

function run(paths: readonly string[]): ReturnType<typeof lintInputs> {
  const inputs = paths.map((path) => ({ name: path, text: textOf(path), format: 'sdp' as const }));
  return lintInputs(inputs, RULES, { today: '2026-06-01' });
}

describe.skipIf(missing !== undefined)(`published session descriptions${skipped(missing)}`, () => {
  it('whole and broken ones alike: no rule crashes, every finding has a place in a file that was read', () => {
    const paths = filesIn('sdp').filter((path) => !path.endsWith('LICENSE'));
    expect(paths.length).toBeGreaterThan(300);
    const result = run(paths);
    expect(result.crashed).toEqual([]);
    const names = new Set(paths);
    for (const finding of result.findings) {
      for (const place of [finding.at, ...finding.others]) {
        expect(names).toContain(place.file);
        const line = textOf(place.file)
          .replace(/^\ufeff/, '')
          .split(/\r\n?|\n/)[place.line - 1];
        expect(line, `${place.file}:${place.line}`).toBeDefined();
        expect(place.column).toBeLessThanOrEqual((line ?? '').length + 1);
      }
    }
  });

  it('the well-formed ones, as one rig, show the defects known to be in them', () => {
    const paths = [...filesIn('nmos'), ...filesIn('sdp')].filter((path) => path.endsWith('.sdp'));
    const result = run(paths);
    expect(result.problems).toEqual([]);
    const found = result.findings.map((one) => `${one.rule} ${basename(one.at.file)}`);
    // BCP-006-01 example: 224.1.1.1 is in a block reserved by IANA (RFC 5771 §13).
    expect(found).toContain('groups/reserved-block jpeg-xs.sdp');
    // sdp-transform ST 2022-6 example: 239.0.0.1 has the multicast MAC of 224.0.0.1 (RFC 1112 §6.4, RFC 4541 §4).
    expect(found).toContain('groups/floods st2022-6.sdp');
    // RFC 4566 seminar example: 224.2.17.12 is in the SDP/SAP block (RFC 5771 §7.1).
    expect(found).toContain('groups/reserved-block example.sdp');
  });
});
