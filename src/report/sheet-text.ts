/** The change sheet a crew works off: box by box, with room for a tick. */
import { orderSteps } from '../compare/order.js';
import type { Comparison, NumberedStep, Stage } from '../compare/steps.js';
import { heading, joinBlocks, rowWriter } from './blocks.js';
import { escapeText } from './escape.js';
import { after, hang, measure, prose, solid, verbatim, wrap } from './layout.js';
import { createPaint, type Paint } from './paint.js';
import type { ReportOptions } from './reporter.js';
import { stepWords, untouchedWords, workWords } from './sheet-words.js';
import { count } from './words.js';

/** Column in which the text beside a label starts. */
const INDENT = 12;
/** Widest the columns of boxes and places become; longer names push the rest onto the next line. */
const MOST_BOX = 32;
const MOST_PLACE = 24;
/** Columns that what is done gets beside the box and the place, at least. */
const LEAST_WORDS = 30;

/** The whole sheet; one line where nothing changed. */
export function reportSheetText(comparison: Comparison, options: ReportOptions): string {
  return joinBlocks(sheetBlocks(comparison, options));
}

/** The sheet as blocks of a longer report. */
export function sheetBlocks(comparison: Comparison, options: ReportOptions): readonly (readonly string[])[] {
  if (comparison.steps.length === 0) return [['nothing changed']];
  const paint = createPaint(options.colour);
  const row = rowWriter(options, paint, INDENT);
  const order = orderSteps(comparison);
  const untouched = untouchedWords(order);
  const severalRigs = new Set(comparison.steps.map(({ rig }) => rig).filter((rig) => rig !== '')).size > 1;
  return [
    [
      ...heading('CHANGE SHEET', paint, options),
      ...row('To do', prose(workWords(comparison))),
      ...(untouched === '' ? [] : row('Left alone', prose(untouched))),
      ...row('Order', prose('from the top; one leg is done before the next, so that the other stays on air')),
    ],
    ...order.stages.map((stage, index) => stageBlock(stage, index + 1, severalRigs, paint, options)),
  ];
}

function stageBlock(
  { title, steps }: Stage,
  number: number,
  severalRigs: boolean,
  paint: Paint,
  options: ReportOptions,
): readonly string[] {
  const digits = String(steps.at(-1)?.number ?? 0).length;
  const lines = steps.map((step) => ({
    step,
    tick: `${String(step.number).padStart(digits)} [ ] `,
    box: escapeText(boxName(step, severalRigs)),
    place: escapeText(step.at ?? ''),
  }));
  const widest = (texts: readonly string[], most: number): number =>
    Math.min(
      most,
      texts.reduce((columns, text) => Math.max(columns, measure(text)), 0),
    );
  const box = widest(
    lines.map((line) => line.box),
    MOST_BOX,
  );
  const place = widest(
    lines.map((line) => line.place),
    MOST_PLACE,
  );
  const tick = digits + 5;
  const words = tick + box + 2 + (place === 0 ? 0 : place + 2);
  const beside = words + LEAST_WORDS <= options.width;
  return [
    ...heading(`STAGE ${number}: ${title} (${count(steps.length, 'step')})`, paint, options),
    ...lines.flatMap((line) => {
      const done = [...prose(stepWords(line.step)), ...whyPieces(line.step)];
      if (!beside) {
        const where = [...solid(line.box), ...(line.place === '' ? [] : after(solid(line.place), 2))];
        return [
          ...hang(line.tick, where, { width: options.width, indent: tick, paint: (text) => text }),
          ...wrap(done, options.width - tick - 2).map((text) => ' '.repeat(tick + 2) + text),
        ];
      }
      const label = line.tick + padded(line.box, box) + (place === 0 ? '' : `  ${padded(line.place, place)}`);
      const frame = { width: options.width, indent: words, paint: (text: string) => text };
      if (measure(label) + 2 <= words) return hang(label, done, frame);
      return [
        ...wrap(verbatim(label.slice(tick)), options.width - tick).map((text, index) => {
          return (index === 0 ? line.tick : ' '.repeat(tick)) + text;
        }),
        ...hang('', done, frame),
      ];
    }),
  ];
}

function whyPieces({ why }: NumberedStep): ReturnType<typeof prose> {
  return why === undefined ? [] : after(prose(`(${why})`));
}

function boxName({ box, rig }: NumberedStep, severalRigs: boolean): string {
  const name = box.kind === 'switch' ? `switch ${box.name}` : box.name;
  return severalRigs && rig !== '' ? `${name} of ${rig}` : name;
}

function padded(text: string, columns: number): string {
  return text + ' '.repeat(Math.max(0, columns - measure(text)));
}
