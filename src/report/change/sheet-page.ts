/** The change sheet a crew works off: box by box, with room for a tick. */
import { orderSteps } from '../../compare/order.js';
import type { Comparison, NumberedStep, Stage } from '../../compare/steps.js';
import type { Block, Column, Page } from '../../page/page.js';
import { prose, say, type Phrase } from '../../page/phrase.js';
import { block, headed, paragraph, row, rowsPart } from '../../page/rows.js';
import { counted } from '../../words/counts.js';
import { stepWords, untouchedWords, workWords } from './words.js';

const LABEL_ROOM = 12;
/** Characters that what is done gets beside the box and the place, at least. */
const ROOM = 30;

/** Boxes and places get so many characters; longer names push the rest onto the next line. */
const COLUMNS: readonly Column[] = [
  { type: 'tick' },
  { type: 'name', size: 32 },
  { type: 'name', size: 24 },
  { type: 'phrase' },
];

/** The whole sheet; one line where nothing changed. */
export function sheetPage(comparison: Comparison): Page {
  return { blocks: sheetBlocks(comparison) };
}

/** The sheet as blocks of a longer report. */
export function sheetBlocks(comparison: Comparison): readonly Block[] {
  if (comparison.steps.length === 0) return block(paragraph(prose('nothing changed')));
  const order = orderSteps(comparison);
  const untouched = untouchedWords(order);
  const severalRigs = new Set(comparison.steps.map(({ rig }) => rig).filter((rig) => rig !== '')).size > 1;
  return [
    headed(
      'CHANGE SHEET',
      ...rowsPart(LABEL_ROOM, [
        ...row('To do', prose(workWords(comparison))),
        ...(untouched === '' ? [] : row('Left alone', prose(untouched))),
        ...row(
          'Order',
          prose(
            'from the top; one leg is done before the next, so that the other stays on air, and nothing is taken before it is free',
          ),
        ),
      ]),
    ),
    ...order.stages.map((stage, index) => stageBlock(stage, index + 1, severalRigs)),
  ];
}

function stageBlock({ title, steps }: Stage, number: number, severalRigs: boolean): Block {
  const rows = steps.map((step) => ({
    cells: [step.number, boxName(step, severalRigs), step.at ?? null, doneWords(step)],
  }));
  return headed(`STAGE ${number}: ${title} (${counted(steps.length, 'step')})`, {
    kind: 'table',
    columns: COLUMNS,
    rows,
    room: ROOM,
  });
}

function doneWords(step: NumberedStep): Phrase {
  const done = prose(stepWords(step));
  return step.why === undefined ? done : say`${done} (${prose(step.why)})`;
}

function boxName({ box, rig }: NumberedStep, severalRigs: boolean): string {
  const name = box.kind === 'switch' ? `switch ${box.name}` : box.name;
  return severalRigs && rig !== '' ? `${name} of ${rig}` : name;
}
