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
  type Format,
  type Kind,
  type Receiver,
  type Sender,
} from '../../../src/doors/rule.js';
import { expectedDifferences, type FormatDifference } from '../../../src/doors/receivers.js';
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
  *check({ plan }) {
    const differencesOf = compareOnce();
    const wrong = plan.receivers.filter((receiver) => differencesOf(receiver).length > 0);
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
        const own = kind === undefined ? first.label : `kind ${kind.name}/${first.name}`;
        const at = noted(mark(first, own, 'format'), { side: 'expects', value: expected });
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
          facts: {
            receivers,
            senders,
            differences: differences.map((one) => ({ member: one.member, sent: one.first, expected: one.second })),
          },
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

/** Thousands of receivers of one format take one stream. */
function compareOnce(): (receiver: Receiver) => readonly FormatDifference[] {
  const compared = new Map<Format, Map<Sender, readonly FormatDifference[]>>();
  return ({ format, takes }) => {
    if (format === undefined || takes?.format === undefined) return [];
    const known = compared.get(format) ?? new Map<Sender, readonly FormatDifference[]>();
    compared.set(format, known);
    const found = known.get(takes) ?? expectedDifferences(takes, takes.format, format);
    known.set(takes, found);
    return found;
  };
}

/** The stream taken, or the kind that states the format for every device; the input, where it switches between streams. */
function subjectOf(receiver: Receiver): string | undefined {
  const kind = kindOf(receiver);
  if (kind === undefined && receiver.selection !== undefined) return receiver.label;
  return kind === undefined ? receiver.takes?.label : `kind ${kind.name}/${receiver.name}`;
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
