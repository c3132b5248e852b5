import { createEditList, likely, peopleDecide, type Cure, writtenAt } from '../../../src/doors/cures.js';
import {
  byLabel,
  clause,
  defineRule,
  eachInput,
  groupBy,
  kindThatWrites,
  mark,
  noted,
  otherPlaces,
  touchOfKind,
  type Citation,
  type FindingDraft,
  type Kind,
  type Receiver,
  type Sender,
} from '../../../src/doors/rule.js';
import type { FormatDifference, WrongFormat } from '../../../src/doors/receivers.js';
import { words, type Facts, type Note } from './words.js';

const VIDEO = [clause('ST 2110-20', '7.2')];
const AUDIO = [clause('RFC 8866', '6.6'), clause('AES67-2018', '7.2')];

export default defineRule<Facts, Note>({
  id: 'receivers/format-differs',
  summary: 'A receiver is set to another format than the stream it takes',
  severity: 'error',
  sources: [...VIDEO, ...AUDIO],
  needs: ['receiverFormats'],
  brief: 'set to another format',
  harm: 'spoils',
  *check({ plan, model }) {
    const { differencesOf, lines, of } = model.wrongFormats;
    for (const line of byLabel(lines, senderSubject)) yield senderFinding(line);
    const wrong = model.wrongFormats.wrong.filter(({ takes }) => takes === undefined || of(takes) === undefined);
    for (const [subject, ofSubject] of groupBy(wrong, subjectOf)) {
      for (const list of groupBy(ofSubject, (one) => sameWay(one, differencesOf(one))).values()) {
        const all = byLabel(list, ({ label }) => label);
        const receivers = eachInput(all);
        const [first, ...rest] = receivers;
        const expected = secondOf(differencesOf(first));
        const differences = differencesOf(first);
        const sent = differences.map((one) => one.first).join(', ');
        const senders = byLabel([...new Set(all.flatMap(({ takes }) => takes ?? []))], ({ label }) => label);
        const kind = kindOf(first);
        const at = noted(mark(first, lineLabel(first), 'format'), { side: 'expects', value: expected });
        yield {
          subject: `${subject} as ${expected}`,
          parties: [...senders, ...receivers].map(({ label }) => label),
          severity: differences.every(isLenient) ? 'warning' : 'error',
          cure: () =>
            cure(
              kind === undefined
                ? all
                : plan.receivers.filter((one) => kindOf(one) === kind && one.name === first.name),
              kind !== undefined,
            ),
          facts: { receivers, senders, ofSenders: false, differences: differences.map(differenceFact) },
          at,
          others: otherPlaces<Note>(at, [
            ...rest.map((one) => noted(mark(one, one.label, 'format'), { side: 'expects', value: expected })),
            ...senders.map((one) => noted(mark(one, one.label, 'format'), { side: 'sends', value: sent })),
          ]),
          sources: sourcesFor(senders),
          touch: kind === undefined ? { kind: 'device', name: first.device.name } : touchOfKind(kind),
        };
      }
    }
  },
  words,
});

function senderFinding(line: WrongFormat): FindingDraft<Facts, Note> {
  const { kind, senders, differences } = line;
  const receivers = eachInput(line.receivers);
  const [first, ...rest] = senders;
  const sent = { side: 'sends', value: differences.map((one) => one.first).join(', ') } as const;
  const expected = { side: 'expects', value: secondOf(differences) } as const;
  const at = noted(mark(first, senderSubject(line), 'format'), sent);
  return {
    subject: `${senderSubject(line)} as ${sent.value}`,
    parties: [...senders, ...receivers].map(({ label }) => label),
    severity: differences.every(isLenient) ? 'warning' : 'error',
    cure: () => senderCure(line),
    facts: { receivers, senders, ofSenders: true, differences: differences.map(differenceFact) },
    hits: receivers,
    at,
    others: otherPlaces<Note>(at, [
      ...receivers.map((one) => noted(mark(one, lineLabel(one), 'format'), expected)),
      ...rest.map((one) => noted(mark(one, one.label, 'format'), sent)),
    ]),
    sources: sourcesFor(senders),
    touch: kind === undefined ? { kind: 'device', name: first.device?.name ?? first.label } : touchOfKind(kind),
  };
}

function senderSubject({ kind, senders: [first] }: WrongFormat): string {
  return kind === undefined ? first.label : `kind ${kind.name}/${first.name}`;
}

function differenceFact({ member, first, second }: FormatDifference): Facts['differences'][number] {
  return { member, sent: first, expected: second };
}

/** The stream taken, or the kind that states the format for every device; the input, where it switches between streams. */
function subjectOf(receiver: Receiver): string | undefined {
  const kind = kindOf(receiver);
  if (kind === undefined && receiver.selection !== undefined) return receiver.label;
  return kind === undefined ? receiver.takes?.label : lineLabel(receiver);
}

/** The receiver by itself, or as its kind has it. */
function lineLabel(receiver: Receiver): string {
  const kind = kindOf(receiver);
  return kind === undefined ? receiver.label : `kind ${kind.name}/${receiver.name}`;
}

function kindOf(receiver: Receiver): Kind | undefined {
  return kindThatWrites(receiver, receiver.device, 'format');
}

/** What is expected; of choices, which are many streams, what is sent too. */
function sameWay({ selection }: Receiver, differences: readonly FormatDifference[]): string {
  const expected = secondOf(differences);
  return selection === undefined ? expected : `${expected} for ${differences.map(({ first }) => first).join(', ')}`;
}

function secondOf(differences: readonly FormatDifference[]): string {
  return differences.map(({ second }) => second).join(', ');
}

/** Many receivers live with it. */
function isLenient({ member }: FormatDifference): boolean {
  return member === 'channels' || member === 'packetTimeNs';
}

function sourcesFor(senders: readonly Sender[]): readonly Citation[] {
  const essences = new Set(senders.map(({ essence }) => essence));
  if (essences.size !== 1) return [...VIDEO, ...AUDIO];
  return essences.has('video') ? VIDEO : essences.has('audio') ? AUDIO : [clause('RFC 8866', '6.6')];
}

/** The sender is set to what all its receivers expect, by the name they have it from. */
function senderCure({ kind, senders: [sender], receivers: [receiver] }: WrongFormat): Cure {
  const written = writtenAt(receiver, 'format');
  if (written === undefined) return peopleDecide('which format is meant');
  const edits = createEditList();
  if (kind === undefined) edits.set(sender, 'format', written);
  else edits.setWhereWritten(sender, 'format', written);
  return likely(edits);
}

/** The receiver is set to what is sent: to the format that its senders share, by the name they have it from. */
function cure(receivers: readonly Receiver[], ofKind: boolean): Cure {
  const senders = [...new Set(receivers.flatMap(({ takes }) => takes ?? []))];
  const formats = new Set(senders.map(({ format }) => format));
  const [sender] = senders;
  const written = sender === undefined ? undefined : writtenAt(sender, 'format');
  if (formats.size !== 1 || written === undefined) return peopleDecide('which of the senders it is to be set to');
  const edits = createEditList();
  for (const receiver of receivers)
    if (ofKind) edits.setWhereWritten(receiver, 'format', written);
    else edits.set(receiver, 'format', written);
  return likely(edits);
}
