/**
 * One line of a kind is one cause: in Heron, for every stream of a kind, a leg on another interface of its boxes and a format
 * of another essence are found once, however many boxes have the line, and a cure that is offered leaves nothing.
 */
import { readFileSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { isMap, isScalar, isSeq, parseDocument, type Scalar } from 'yaml';
import { describe, expect, it } from 'vitest';
import { RULES } from '../../rules/index.js';
import type { Finding } from '../../src/lint/finding.js';
import { lintInputs } from '../../src/lint/lint.js';
import { mendPlan } from '../../src/mend/mend.js';
import type { Input } from '../../src/read/index.js';

const HERON = fileURLToPath(new URL('../../examples/kestrel-bay/heron', import.meta.url));
const TODAY = '2026-06-01';
const FILES: readonly { readonly name: string; readonly text: string }[] = readdirSync(HERON).map((name) => ({
  name,
  text: readFileSync(join(HERON, name), 'utf8'),
}));

/** Every third by default; `KIND_LINES=1` takes all. */
const EACH = Number(process.env['KIND_LINES'] ?? 3);

/** A value of a kind's line, written as another. */
interface Slip {
  readonly what: string;
  readonly file: string;
  readonly start: number;
  readonly end: number;
  readonly to: string;
}

/** Another essence for each, so that every receiver that says what it expects is wrong. */
const OTHER_FORMAT: Readonly<Record<string, string>> = {
  '1080p50': 'ancillary',
  ancillary: 'sound 2',
};

function slipsOf({ name: file, text }: (typeof FILES)[number]): readonly Slip[] {
  const kinds = parseDocument(text).get('kinds');
  if (!isSeq(kinds)) return [];
  return kinds.items.flatMap((kind): readonly Slip[] => {
    if (!isMap(kind)) return [];
    const interfaces =
      (kind.toJSON() as { readonly interfaces?: readonly { readonly name: string }[] }).interfaces ?? [];
    const senders = kind.get('senders');
    return (isSeq(senders) ? senders.items : []).flatMap((sender): readonly Slip[] => {
      if (!isMap(sender)) return [];
      const of = `${String(kind.get('name'))}/${String(sender.get('name'))}`;
      const slip = (what: string, scalar: Scalar, to: string): readonly Slip[] => {
        const [start, end] = scalar.range ?? [0, 0];
        return [{ what: `${of} ${what} ${String(scalar.value)} as ${to}`, file, start, end, to }];
      };
      const format = sender.get('format', true);
      const legs = sender.get('legs');
      return [
        ...(isScalar(format) ? slip('format', format, OTHER_FORMAT[String(format.value)] ?? '1080p50') : []),
        ...(isSeq(legs) ? legs.items : []).flatMap((leg, index) => {
          const via = isMap(leg) ? leg.get('interface', true) : undefined;
          if (!isScalar(via)) return [];
          return interfaces
            .filter(({ name }) => name !== via.value)
            .flatMap(({ name }) => slip(`leg ${index + 1}`, via, name));
        }),
      ];
    });
  });
}

function slipped({ file, start, end, to }: Slip): readonly Input[] {
  return FILES.map((one) =>
    one.name === file ? { name: file, text: one.text.slice(0, start) + to + one.text.slice(end) } : one,
  );
}

function found(inputs: readonly Input[]): readonly Finding[] {
  const { findings, problems } = lintInputs(inputs, RULES, { today: TODAY });
  expect(problems).toEqual([]);
  return findings;
}

describe('a line of a kind in Heron', () => {
  const slips = FILES.flatMap(slipsOf);

  it('is written for streams of many kinds', () => {
    expect(found(FILES)).toEqual([]);
    expect(slips.length).toBeGreaterThan(40);
  });

  it.each(slips.filter((_, index) => index % EACH === 0).map((slip) => [slip.what, slip] as const))('%s', (_, slip) => {
    const inputs = slipped(slip);
    const findings = found(inputs);
    expect(findings.map(({ rule, subject }) => `${rule} ${subject}`)).toHaveLength(1);
    const { mended, after } = mendPlan({ inputs, problems: [] }, RULES, { today: TODAY, likely: true });
    if (mended.length > 0) expect(after?.findings).toEqual([]);
  });
});
