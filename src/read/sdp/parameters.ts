import { quote, type ProblemList } from '../problem-list.js';
import type { Placed } from '../tree.js';
import { placed, slice, spanOf, split, trim, type Piece } from './piece.js';

/** Format parameters `name=value; flag; …` (RFC 8866 §6.15, ST 2110-20 §7.1). Names are asked for in lower case. */
export interface Parameters {
  /** Undefined when the medium states none. */
  readonly whole: Piece | undefined;
  flag(name: string): Piece | undefined;
  value(name: string): Placed<string> | undefined;
  /** A value that is not of the given form is a problem: the receiver would not understand it either. */
  matching(name: string, form: RegExp, example: string, problems: ProblemList): Placed<string> | undefined;
  wholeNumber(name: string, least: number, most: number, problems: ProblemList): Placed<number> | undefined;
}

interface Parameter {
  readonly name: Piece;
  readonly value: Piece | undefined;
}

export function readParameters(whole: Piece | undefined): Parameters {
  const byName = new Map<string, Parameter>();
  for (const part of whole === undefined ? [] : split(whole, ';')) {
    if (part.text === '') continue; // many senders end the list with a semicolon
    const parameter = readParameter(part);
    const key = parameter.name.text.toLowerCase();
    if (!byName.has(key)) byName.set(key, parameter);
  }

  const value = (name: string): Placed<string> | undefined => {
    const parameter = byName.get(name);
    return parameter?.value && { ...placed(parameter.value), key: spanOf(parameter.name) };
  };
  const matching: Parameters['matching'] = (name, form, example, problems) => {
    const found = value(name);
    if (found === undefined || form.test(found.value)) return found;
    problems.add(found.span, `${quote(found.value)} is no value of parameter \`${name}\``, `write \`${example}\``);
    return undefined;
  };

  return {
    whole,
    flag: (name) => byName.get(name)?.name,
    value,
    matching,
    wholeNumber(name, least, most, problems) {
      const text = matching(name, /^\d{1,9}$/, `${name}=${most}`, problems);
      if (text === undefined) return undefined;
      const number = Number(text.value);
      if (number >= least && number <= most) return { ...text, value: number };
      problems.add(
        text.span,
        `\`${name}\` of ${number} is not from ${least} to ${most}`,
        `write a number from ${least} to ${most}`,
      );
      return undefined;
    },
  };
}

function readParameter(part: Piece): Parameter {
  const equals = part.text.indexOf('=');
  if (equals < 0) return { name: part, value: undefined };
  return { name: trim(slice(part, 0, equals)), value: trim(slice(part, equals + 1)) };
}
