"""Whether a process of this machine still lives."""

import os
import sys

if sys.platform == "win32":
    import ctypes

    _QUERY_LIMITED_INFORMATION, _INVALID_PARAMETER, _STILL_ACTIVE = 0x1000, 87, 259

    def is_running(pid: int) -> bool:
        """Whether a process with this number runs on this machine; in doubt, yes."""
        if not 0 < pid < 2**32:
            return False
        kernel = ctypes.WinDLL("kernel32", use_last_error=True)  # os.kill would end the process here
        handle = kernel.OpenProcess(_QUERY_LIMITED_INFORMATION, False, pid)
        if not handle:
            return ctypes.get_last_error() != _INVALID_PARAMETER
        code = ctypes.c_ulong()
        kernel.GetExitCodeProcess(handle, ctypes.byref(code))
        kernel.CloseHandle(handle)
        return code.value == _STILL_ACTIVE

else:

    def is_running(pid: int) -> bool:
        """Whether a process with this number runs on this machine; in doubt, yes."""
        if pid <= 0:
            return False
        try:
            os.kill(pid, 0)  # signal 0 only asks
        except (ProcessLookupError, OverflowError):
            return False
        except PermissionError:  # someone else's, so it is there
            return True
        return True
