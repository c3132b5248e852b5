/** Texts and bytes that somebody's editor, export or cable may leave. */
import fc from 'fast-check';
import { HOSTILE } from './materials.js';
import type { Content } from './case.js';

const PIECES = [
  ...HOSTILE.filter((one) => typeof one === 'string'),
  '\n',
  '\r',
  '\0',
  '\ufeff',
  ': ',
  '- ',
  '# ',
  '[',
  ']',
  '{',
  '}',
  '  ',
  '&x ',
  '*x',
  '<<: *x',
  '---\n',
  '...\n',
  '|\n',
  '>-\n',
  '? ',
  '!!binary ',
  '%YAML 1.1\n',
  '"\\ud800"',
  '\\',
  '/*',
  ',',
  ';',
  '""',
  'm=video 5004 RTP/AVP 96\r\n',
  'c=IN IP4 239.1.1.1/16\r\n',
  'a=group:DUP 1 2\r\n',
  'a=fmtp:96 ',
  'a=ts-refclk:ptp=',
  '[['.repeat(200),
];

const change = fc.record({
  at: fc.nat(20_000),
  length: fc.nat(40),
  kind: fc.constantFrom('insert', 'delete', 'double', 'move', 'cut', 'line'),
  piece: fc.oneof(fc.constantFrom(...PIECES), fc.string({ unit: 'binary', maxLength: 4 })),
});

export function mutatedText(texts: fc.Arbitrary<string>): fc.Arbitrary<string> {
  return fc.tuple(texts, fc.array(change, { maxLength: 6 })).map(([text, changes]) =>
    changes.reduce((now, { at, length, kind, piece }) => {
      const start = at % (now.length + 1);
      const [before, part, after] = [now.slice(0, start), now.slice(start, start + length), now.slice(start + length)];
      if (kind === 'insert') return before + piece + part + after;
      if (kind === 'delete') return before + after;
      if (kind === 'double') return before + part + part + after;
      if (kind === 'move') return before + after + part;
      if (kind === 'cut') return before;
      const lines = now.split('\n');
      const line = at % lines.length;
      return [...lines.slice(0, line), lines[(line + length) % lines.length] ?? '', ...lines.slice(line)].join('\n');
    }, text),
  );
}

const flips = fc.array(fc.record({ at: fc.nat(20_000), byte: fc.nat(255) }), { maxLength: 4 });

/** As UTF-8 mostly, with or without a mark; or as UTF-16; with some bytes changed. */
export function encoded(texts: fc.Arbitrary<string>): fc.Arbitrary<Content> {
  const how = fc.constantFrom(
    'text',
    'text',
    'text',
    'text',
    'mark',
    'flip',
    'flip',
    'utf16',
    'utf16-big',
    'utf16-flip',
  );
  return fc.tuple(texts, how, flips).map(([text, form, changes]): Content => {
    if (form === 'text') return text;
    if (form === 'mark') return `\ufeff${text}`;
    const bytes = Buffer.from(form === 'flip' ? text : `\ufeff${text}`, form === 'flip' ? 'utf8' : 'utf16le');
    if (form === 'utf16-big') bytes.swap16();
    if (form.endsWith('flip')) for (const { at, byte } of changes) bytes[at % Math.max(1, bytes.length)] = byte;
    return new Uint8Array(bytes);
  });
}
