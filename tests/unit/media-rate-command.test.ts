/** `rigproof rate` as a user meets it. */
import { describe, expect, it } from 'vitest';
import { run as runProgram } from '../tools/run-program.js';

async function run(
  ...words: readonly string[]
): Promise<{ readonly code: number; readonly out: string; readonly err: string }> {
  const { status: code, stdout: out, stderr: err } = await runProgram(['rate', ...words]);
  return { code, out, err };
}

describe('rigproof rate', () => {
  it('prints packets, rates, ports and assumptions', async () => {
    const { code, out, err } = await run('1080p50');
    expect([code, err]).toEqual([0, '']);
    expect(out).toMatch(/packets a frame +4320\n/);
    expect(out).toMatch(/packets a second +216000\.0\n/);
    expect(out).toMatch(/largest UDP datagram +1228 +octets, 1460 allowed\n/);
    expect(out).toMatch(/wire +2222\.208 /);
    expect(out).toMatch(/wire, tagged +2229\.120 /);
    expect(out).toContain('1G 0   10G 4   25G 10   100G 40');
    expect(out).toContain('- sampling YCbCr-4:2:2');
    expect(out).toContain('- 10 % of a port kept free');
  });

  it('takes the words quoted or not', async () => {
    expect((await run('L24', '8ch', '125us')).out).toBe((await run('L24 8ch 125us')).out);
  });

  it('keeps as much of a port free as told', async () => {
    const { out } = await run('1080p50', '--headroom', '0');
    expect(out).toContain('25G 11');
    expect(out).not.toContain('- 10 % of a port');
  });

  it('says when a packet is too large', async () => {
    expect((await run('am824 8ch 1ms')).out).toMatch(/1556 +octets, MORE than the 1460 allowed/);
    expect((await run('1080p50 maxudp=8960')).out).toMatch(/octets, MORE than the 1500 on common Ethernet/);
  });

  it('keeps the decimal points under each other', async () => {
    const { out } = await run('ts 20M');
    const columns = out
      .split('\n')
      .filter((line) => /\d\.\d/.test(line) && !line.startsWith('-'))
      .map((line) => /\d\./.exec(line)?.index);
    expect(columns.length).toBeGreaterThan(3);
    expect(new Set(columns).size).toBe(1);
  });

  it('gives JSON', async () => {
    const { code, out } = await run('1080p59.94', '--format', 'json');
    expect(code).toBe(0);
    const answer = JSON.parse(out) as Record<string, unknown>;
    expect(answer).toMatchObject({
      format: '1080p59.94',
      packetsPerFrame: 4320,
      basis: 'computed',
      headroomPercent: 10,
      streamsPerPort: { '1G': 0, '100G': 33 },
    });
    // 1000/1001 of 2674.944 Mbit/s, the rate of 1080p60 in the outside table.
    expect(answer['exactWireTaggedBps']).toBe('2674944000000/1001');
    expect(answer['wireTaggedBps']).toBeCloseTo(2674944000000 / 1001, 3);
  });

  it('lists the forms without a format', async () => {
    const { code, out } = await run();
    expect(code).toBe(0);
    expect(out).toContain('rigproof rate "1080p50 jpegxs 3bpp"');
    expect(JSON.parse((await run('--format', 'json')).out)).toHaveProperty('forms');
  });

  it.each([
    [['1080p50 jpgxs 3bpp'], '`jpegxs`'],
    [['1081p50'], '`1080p50`'],
    [['1080i50 4:2:0'], 'has no rate without a progressive scan'],
    [['1080p50', '--headroom', '100'], 'less than 100'],
    [['1080p50', '--headroom', '-1'], 'from 0'],
    [['1080p50', '--headroom', 'much'], 'from 0'],
    [['1080p50', '--hedroom', '1'], '--headroom'],
  ])('2 for %s, with what to write instead', async (words, wanted) => {
    const { code, out, err } = await run(...words);
    expect([code, out]).toEqual([2, '']);
    expect(err).toContain(wanted);
  });

  it('never lets a command through to the terminal', async () => {
    for (const text of ['\u001b[31m1080p50', '1080p50\u202e', 'ts\u0007 20M']) {
      const { code, err } = await run(text);
      expect(code).toBe(2);
      expect(err).not.toMatch(/[\u0000-\u0009\u000b-\u001f\u202e]/);
    }
  });
});
