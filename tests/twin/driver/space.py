"""Network namespaces without names: each lives only while this process holds it open."""
import ctypes
import os
import subprocess
import threading

CLONE_NEWNET = 0x40000000

# The kernel changes its networks one step at a time: more builders would only wait for each other.
BUILDERS = threading.BoundedSemaphore(4)

libc = ctypes.CDLL(None, use_errno=True)


def check(result):
    if result != 0:
        number = ctypes.get_errno()
        raise OSError(number, os.strerror(number))


def this_namespace():
    """A handle on the namespace of the calling thread."""
    return os.open('/proc/thread-self/ns/net', os.O_RDONLY | os.O_CLOEXEC)


def new_namespace():
    """Moves the calling thread to a namespace of its own and returns a handle on it."""
    check(libc.unshare(CLONE_NEWNET))
    # Without IPv6 no interface speaks unasked.
    for scope in ('all', 'default'):
        write_setting(f'net/ipv6/conf/{scope}/disable_ipv6', '1')
    return this_namespace()


def enter(namespace):
    check(libc.setns(namespace, CLONE_NEWNET))


def write_setting(name, value):
    try:
        with open(f'/proc/sys/{name}', 'w') as setting:
            setting.write(value)
    except FileNotFoundError:
        pass


def run(words, **more):
    """Runs a program in the thread's namespace."""
    done = subprocess.run(words, capture_output=True, text=True, timeout=60, **more)
    if done.returncode != 0:
        raise RuntimeError(f'{words[0]}: {done.stderr.strip()} in {more.get("input", words)}')
    return done.stdout


def ip(lines):
    """Runs `ip` commands in the thread's namespace."""
    if lines:
        run(['ip', '-batch', '-'], input='\n'.join(lines) + '\n')


def path_of(namespace):
    return f'/proc/{os.getpid()}/fd/{namespace}'
