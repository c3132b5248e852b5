/** `rigproof mend` as a user meets it: shown, written beside, written over, never in part. */
import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { folder, inOwnFolder, run } from '../tools/cli-folder.js';

inOwnFolder();
const at = (): string => folder;

const SLIP = `rig: Heron
conventions:
  legMap:
    groups: [{first: 239.192.0.0/16, second: 239.193.0.0/16}]
networks: [{name: red, leg: 1}, {name: blue, leg: 2}]
devices:
  - name: cam-finish
    interfaces: [{name: red, network: red}, {name: blue, network: blue}]
    senders:
      - {name: video, legs: [{interface: red, group: 239.192.10.31}, {interface: blue, group: 239.193.10.13}]}
`;
const MENDED = SLIP.replace('239.193.10.13', '239.193.10.31');

describe('mend', () => {
  it('shows the difference and writes nothing', async () => {
    writeFileSync(join(at(), 'slip.yaml'), SLIP);
    const { status, stdout } = await run(['mend', 'slip.yaml']);
    expect(status).toBe(0);
    expect(stdout).toContain('1 finding mended.');
    expect(stdout).toContain('--- slip.yaml\n+++ slip.yaml\n@@ -7,4 +7,4 @@\n');
    expect(readFileSync(join(at(), 'slip.yaml'), 'utf8')).toBe(SLIP);
  });

  it('writes the mended plan into a folder, once', async () => {
    writeFileSync(join(at(), 'slip.yaml'), SLIP);
    expect(await run(['mend', 'slip.yaml', '--write', 'mended'])).toMatchObject({ status: 0 });
    expect(readFileSync(join(at(), 'mended', 'slip.yaml'), 'utf8')).toBe(MENDED);
    const again = await run(['mend', 'slip.yaml', '--write', 'mended']);
    expect(again.status).toBe(2);
    expect(again.stderr).toContain('add --force');
    expect(readFileSync(join(at(), 'slip.yaml'), 'utf8')).toBe(SLIP);
  });

  it('writes over the plan when told, and finds nothing left', async () => {
    writeFileSync(join(at(), 'over.yaml'), SLIP);
    expect(await run(['mend', 'over.yaml', '--in-place'])).toMatchObject({ status: 0 });
    expect(readFileSync(join(at(), 'over.yaml'), 'utf8')).toBe(MENDED);
    expect((await run(['mend', 'over.yaml'])).stdout).toContain('Nothing to mend');
  });

  it('mends one finding by rule and key, and knows its rules', async () => {
    writeFileSync(join(at(), 'slip.yaml'), SLIP);
    const other = await run(['mend', 'slip.yaml', '--rule', 'groups/leg-map', '--subject', 'another']);
    expect(other.stdout).not.toContain('+++');
    const own = ['--rule', 'groups/leg-map', '--subject', 'cam-finish/video in rig Heron'];
    expect((await run(['mend', 'slip.yaml', ...own])).stdout).toContain('+++');
    expect((await run(['mend', 'slip.yaml', '--rule', 'groups/none'])).status).toBe(2);
  });

  it('refuses to write in two ways, and over standard input', async () => {
    writeFileSync(join(at(), 'slip.yaml'), SLIP);
    expect((await run(['mend', 'slip.yaml', '--write', 'x', '--in-place'])).status).toBe(2);
    expect((await run(['mend', '-', '--in-place'])).status).toBe(2);
    expect(existsSync(join(at(), 'x'))).toBe(false);
  });

  it('mends nothing of a plan it can not read', async () => {
    writeFileSync(join(at(), 'broken.yaml'), 'devices: [{name: 1');
    expect((await run(['mend', 'broken.yaml', '--write', 'never'])).status).toBe(2);
    expect(existsSync(join(at(), 'never'))).toBe(false);
  });
});
