/** The conversation of `allocate --ask`: questions to the terminal, lines back, one request file at the end. */
import { allAnswers, type AllAnswers, type Answers } from '../allocate/ask/answers.js';
import { nextQuestion, replyTo, type Question } from '../allocate/ask/questions.js';
import { escapeText } from '../page/escape.js';
import { drawText } from '../draw/text.js';
import { prose } from '../page/phrase.js';
import { block, paragraph } from '../page/rows.js';
import { exists } from '../edge/files.js';
import type { Conversation, Terminal } from '../edge/terminal.js';
import { EXIT, UsageError, type ExitCode } from './exit.js';
import { writeWhole } from './output.js';
import { widthOf } from './terminal.js';

/** How answers become a request. */
export interface RequestForm {
  /** A small request, for those who have to write one without being asked. */
  readonly example: string;
  readonly textOf: (answers: AllAnswers) => string;
}

/** Asks for what a request needs and writes it into `file`, or where the user says; never over an existing file. */
export async function askForRequest(
  file: string | undefined,
  { example, textOf }: RequestForm,
  terminal: Terminal,
): Promise<ExitCode> {
  const say = sayAt(terminal);
  if (!terminal.stdin.isTTY || !terminal.stdout.isTTY) {
    throw new UsageError(
      '--ask needs a terminal to ask at. Without one, write the request yourself and give it: ' +
        'rigproof allocate request.yaml. A small one to start from:',
      ['', ...example.split('\n'), 'schemas/request.schema.json describes every key.'],
    );
  }
  if (file !== undefined && exists(file, terminal)) {
    throw new UsageError(`${file} exists and is kept; name a file that does not, or leave the name out`);
  }
  say('A first request in a few answers. An empty line takes what stands in brackets. Ctrl-C leaves, nothing written.');
  const all = await converse(file === undefined ? {} : { file }, terminal);
  if (all === undefined) throw new UsageError('the questions were left before their end; nothing is written');
  writeWhole(terminal, all.file, textOf(all), false);
  say(`${all.file} is written. Next: rigproof allocate ${all.file} --output plan.yaml`);
  return EXIT.clean;
}

/** Asks until nothing is left to ask; undefined where the terminal is closed first. */
async function converse(start: Answers, terminal: Terminal): Promise<AllAnswers | undefined> {
  const taken = (name: string): boolean => exists(name, terminal);
  const say = sayAt(terminal);
  const put = (lines: Conversation, { text, usual }: Question): void => {
    say(text);
    lines.prompt(escapeText(`[${usual}] `));
  };
  let answers = start;
  let question = nextQuestion(answers, taken);
  const lines = await terminal.stdin.converse();
  try {
    if (question !== undefined) put(lines, question);
    for await (const line of lines) {
      if (question === undefined) break;
      const reply = replyTo(question, line);
      if ('instead' in reply) say(reply.instead);
      else answers = reply.answers;
      question = nextQuestion(answers, taken);
      if (question === undefined) break;
      put(lines, question);
    }
  } finally {
    lines.close();
  }
  return allAnswers(answers);
}

function sayAt(terminal: Terminal): (text: string) => void {
  return (text) => {
    const page = { blocks: block(paragraph(prose(text))) };
    terminal.stdout.write(drawText(page, { width: widthOf(undefined, terminal), colour: false }));
  };
}
