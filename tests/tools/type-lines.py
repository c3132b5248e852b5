"""Runs a program on a terminal of its own and types a line whenever it asks.

Arguments: the lines as a JSON list, then the program with its arguments. A line that is one control character is sent
as the key it is. Prints what the terminal showed and the exit code as JSON.
"""
import fcntl
import json
import os
import pty
import re
import select
import struct
import sys
import termios

WAITS_FOR_A_LINE = re.compile(rb'\] (\x1b\[\d+G)?$')
LONGEST_SILENCE_S = 20
ROWS, COLUMNS = 40, 120


def main():
    lines = json.loads(sys.argv[1])
    child, terminal = pty.fork()
    if child == 0:
        fcntl.ioctl(0, termios.TIOCSWINSZ, struct.pack('HHHH', ROWS, COLUMNS, 0, 0))
        os.execvp(sys.argv[2], sys.argv[2:])
    shown = b''
    since = 0
    while select.select([terminal], [], [], LONGEST_SILENCE_S)[0]:
        try:
            piece = os.read(terminal, 65536)
        except OSError:  # Linux says so when the other side is closed
            break
        if not piece:
            break
        shown += piece
        if lines and WAITS_FOR_A_LINE.search(shown, since):
            since = len(shown)
            line = lines.pop(0).encode()
            os.write(terminal, line if line in (b'\x03', b'\x04') else line + b'\r')
    else:
        os.kill(child, 9)
    _, status = os.waitpid(child, 0)
    print(json.dumps({'code': os.waitstatus_to_exitcode(status), 'shown': shown.decode(errors='replace')}))


main()
