/** Drawings of pages made by hand: layout, colour, escaping. */
import { parse } from 'csv-parse/sync';
import fc from 'fast-check';
import { stripVTControlCharacters, styleText } from 'node:util';
import { describe, expect, it } from 'vitest';
import { drawCsv } from '../../src/draw/csv.js';
import { drawJson } from '../../src/draw/json.js';
import { createPaint } from '../../src/draw/paint.js';
import { drawText } from '../../src/draw/text.js';
import { measure } from '../../src/draw/width.js';
import { escapeText } from '../../src/page/escape.js';
import type { Page, Part, Table } from '../../src/page/page.js';
import {
  apart,
  copy,
  label,
  name,
  place,
  plainText,
  prose,
  say,
  sayAll,
  sayNames,
  title,
} from '../../src/page/phrase.js';
import { block, headed, inset, outline, paragraph, row, rowsPart, titled, toned } from '../../src/page/rows.js';
import { HOSTILE_TEXTS } from '../tools/report-samples.js';

/** Lines of one part, without the newline at the end. */
function draw(part: Part | undefined, width: number): readonly string[] {
  const text = drawText({ blocks: part === undefined ? [] : block(part) }, { width, colour: false });
  return text.split('\n').slice(0, -1);
}

describe('phrases', () => {
  it('are said with names in them', () => {
    const phrase = say`from ${sayNames(['a b', 'c', 'd'], 2)}: ${sayAll([prose('x'), say`${'y z'}`])}.`;
    expect(plainText(phrase)).toBe('from a b, c and 1 more: x; y z.');
    expect(plainText(apart(place('a.yaml', '2:5'), prose('cam  3')))).toBe('a.yaml 2:5  cam 3');
    expect(plainText(sayNames([]))).toBe('');
    expect(plainText(sayNames(['a']))).toBe('a');
    expect(plainText(sayNames(['a', 'b', 'c']))).toBe('a, b and c');
  });

  it.each([
    ['words at any space', prose('one two three'), ['one', 'two', 'three']],
    ['names nowhere, with the signs that touch them', say`to ${'lake shore'}, then`, ['to', 'lake shore,', 'then']],
    ['copies at spaces, which they keep on a line', copy('a  b  ccccc'), ['a  b', 'ccccc']],
    ['places nowhere', say`in ${place('b c.yaml', '7:3')}`, ['in', 'b c.yaml 7:3']],
    ['wide letters between two of them', prose('水上競技'), ['水上競', '技']],
    ['runs of white space as one space', prose('a \n\t b'), ['a b']],
  ])('are broken over lines: %s', (_, phrase, lines) => {
    expect(draw(paragraph(phrase), 6)).toEqual(lines);
  });
});

describe('rows', () => {
  const rows = [
    ...row('Label', prose('one two three'), name('second text')),
    ...inset('Part', prose('x')),
    ...toned('count', '12', [prose('y')]),
    ...row('', prose('no label')),
    ...row('Nothing'),
  ];

  it('have texts below each other in one column', () => {
    const long = [...row('Label', prose(`one two ${'three '.repeat(8)}four`)), ...rows.slice(1)];
    expect(draw(rowsPart(10, long)[0], 60)).toEqual([
      'Label     one two three three three three three three three',
      '          three four',
      '  Part    x',
      '   12     y',
      '          no label',
    ]);
  });

  it('put labels into the first line of their texts where there are few columns', () => {
    expect(draw(rowsPart(10, rows)[0], 18)).toEqual([
      'Label  one two',
      '   three',
      '   second text',
      '  Part  x',
      '12  y',
      '   no label',
    ]);
  });

  it('keep numbers beside their texts at any width', () => {
    const counts = [...toned('count', '7', [prose('one two three four')]), ...toned('count', '12', [prose('five')])];
    expect(draw(rowsPart(6, counts)[0], 18)).toEqual(['  7   one two', '      three four', ' 12   five']);
  });

  it('start no line in an even column but with a label, where there are few', () => {
    const forged = [...row('Verdict', prose('x '.repeat(9))), ...inset('Do', name('Do'), prose('y '.repeat(20)))];
    const starts = draw(rowsPart(10, forged)[0], 20).map((line) => [/^ */.exec(line)?.[0].length, line.trim()]);
    expect(starts.filter(([indent]) => Number(indent) % 2 === 0).map(([, text]) => String(text).split(' ')[0])).toEqual(
      ['Verdict', 'Do'],
    );
  });

  it('show the label alone where there is no text', () => {
    expect(draw(rowsPart(10, row('Source', prose('')))[0], 40)).toEqual(['Source']);
  });
});

describe('an outline', () => {
  it('sets in by depth, and further lines of an entry by an odd number more', () => {
    const [part] = outline([
      { depth: 0, text: say`${title('top')} ${prose('of all that hangs')}` },
      { depth: 2, text: prose('deep down in there') },
    ]);
    expect(draw(part, 19)).toEqual(['  top of all', '     that hangs', '      deep down', '         in there']);
  });

  it('stops setting in before that eats the width', () => {
    const [part] = outline([{ depth: 500, text: prose('word word word word word') }]);
    const lines = draw(part, 40);
    expect(lines[0]).toBe(`${' '.repeat(12)}word word word word word`);
    expect(Math.max(...lines.map(measure))).toBeLessThanOrEqual(40);
  });
});

const SHEET: Table = {
  kind: 'table',
  columns: [{ type: 'tick' }, { type: 'name', size: 8 }, { type: 'name' }, { type: 'phrase' }],
  rows: [
    { cells: [9, 'cam-1', 'red', prose('group 239.10.1.1 to 239.10.1.2')] },
    { cells: [10, 'a very long name', null, prose('address')] },
  ],
  room: 20,
};

const COUNTS: Table = {
  kind: 'table',
  columns: [
    { heading: 'RANK', type: 'number' },
    { heading: 'LOST', type: 'number', folds: true },
    { heading: 'WHAT', type: 'phrase' },
  ],
  rows: [
    {
      cells: [1, 12_345, name('switch red')],
      details: [
        { label: 'lost', text: say`${'cam-1'} and ${'cam-2'}`, folded: prose('12345 streams') },
        { label: 'kept', folded: prose('2 streams') },
      ],
    },
    { cells: [2, 0, name('switch blue')] },
  ],
  room: 10,
};

describe('a table', () => {
  it('has its columns beside each other; a name that is too long has a line of its own', () => {
    expect(draw(SHEET, 45)).toEqual([
      ' 9 [ ] cam-1     red  group 239.10.1.1 to',
      '                      239.10.1.2',
      '10 [ ] a very long name',
      '                      address',
    ]);
  });

  it('folds where the last column has not its room: names above it', () => {
    expect(draw(SHEET, 40)).toEqual([
      ' 9 [ ]  cam-1  red',
      '         group 239.10.1.1 to 239.10.1.2',
      '10 [ ]  a very long name',
      '         address',
    ]);
  });

  it('has numbers end below each other under their headings, with details below', () => {
    expect(draw(COUNTS, 40)).toEqual([
      'RANK   LOST  WHAT',
      '   1  12345  switch red',
      '        lost: cam-1 and cam-2',
      '   2      0  switch blue',
    ]);
  });

  it('folds where the last column has not its room: details tell the numbers', () => {
    expect(draw(COUNTS, 22)).toEqual([
      '   1  switch red',
      '        lost: 12345',
      '         streams,',
      '         cam-1 and',
      '         cam-2',
      '        kept: 2',
      '         streams',
      '   2  switch blue',
    ]);
  });

  it('gives numbers the room it is told, and lets a wider one push its line', () => {
    const rows = [{ cells: ['5 ms', name('a')] }, { cells: ['123.45 ms +', name('b')] }];
    const table: Table = { kind: 'table', columns: [{ type: 'number', size: 9 }, { type: 'phrase' }], rows };
    expect(draw(table, 40)).toEqual(['     5 ms  a', '123.45 ms + b']);
  });

  it('leaves out a column of names that no row fills', () => {
    const table: Table = { ...SHEET, rows: [{ cells: [1, null, 'red', prose('x')] }] };
    expect(draw(table, 45)).toEqual(['1 [ ] red  x']);
  });

  it('as CSV has every cell, numbers bare, texts quoted, nothing for what is not stated', () => {
    expect(drawCsv(SHEET)).toBe(
      '"","","",""\r\n' +
        '9,"cam-1","red","group 239.10.1.1 to 239.10.1.2"\r\n' +
        '10,"a very long name",,"address"\r\n',
    );
  });
});

function rowsOfCsv(text: string): string[][] {
  return parse(text, { relax_column_count: true });
}

/** A page with a text in every place that takes one. */
function filledWith(text: string): Page {
  const phrase = [...prose(text), ...name(text), ...copy(text), ...title(text), ...label(text)];
  const details = [{ label: text, text: phrase, folded: phrase }];
  const columns = [
    { heading: text, type: 'name' },
    { heading: text, type: 'phrase' },
  ] as const;
  return {
    blocks: [
      headed(
        text,
        ...rowsPart(10, [...row(text, phrase), ...titled(text, place(text, '1:1'))]),
        ...outline([{ depth: 1, text: phrase }]),
        { kind: 'table', columns, rows: [{ cells: [text, phrase], details }], room: 20 },
        paragraph(phrase),
      ),
    ],
  };
}

describe('hostile text', () => {
  const anyText = fc.oneof(fc.string({ unit: 'binary' }), fc.constantFrom(...HOSTILE_TEXTS));

  it('reaches no terminal, wherever it stands in a page', () => {
    fc.assert(
      fc.property(anyText, fc.integer({ min: 40, max: 120 }), (text, width) => {
        const plain = drawText(filledWith(text), { width, colour: false });
        expect(plain.replaceAll('\n', '')).toBe(escapeText(plain.replaceAll('\n', '')));
        expect(stripVTControlCharacters(drawText(filledWith(text), { width, colour: true }))).toBe(plain);
      }),
    );
  });

  it('is one cell of a spreadsheet and no formula', () => {
    fc.assert(
      fc.property(anyText, (text) => {
        const table: Table = { kind: 'table', columns: [{ type: 'name' }], rows: [{ cells: [text] }] };
        const [, [cell] = ['']] = rowsOfCsv(drawCsv(table));
        expect([escapeText(text), `'${escapeText(text)}`]).toContain(cell);
        expect(cell).not.toMatch(/^\s*[=+\-@\uff1d\uff0b\uff0d\uff20]/);
      }),
    );
  });

  it('reads back from JSON as it was, and is safe to print', () => {
    fc.assert(
      fc.property(anyText, (text) => {
        const drawn = drawJson({ [text]: [text] });
        expect(JSON.parse(drawn)).toEqual(Object.fromEntries([[text, [text]]]));
        expect(drawn.replaceAll('\n', '')).toBe(escapeText(drawn.replaceAll('\n', '')));
      }),
    );
  });
});

describe('colour', () => {
  it.each([
    ['error', ['bold', 'magenta']],
    ['warning', ['bold', 'yellow']],
    ['note', ['bold', 'cyan']],
    ['title', ['bold']],
    ['label', ['dim']],
    ['count', ['dim']],
  ] as const)('of %s has the codes that Node writes', (tone, styles) => {
    expect(createPaint(true)(tone, 'x')).toBe(styleText([...styles], 'x', { validateStream: false }));
    expect(createPaint(false)(tone, 'x')).toBe('x');
    expect(createPaint(true)(tone, '')).toBe('');
  });
});
