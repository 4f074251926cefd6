"""How large, long and fast a recording may be: every limit in one place.

A file is held against the first part before its numbers are looked at; its numbers are held
against the drive of the bench sheet (`plausible`) before anything is computed from them.  So the
memory that any file can ask for is bounded: a file's by its bytes, a record's by its length and
its rate, that of the waves that are fitted at once by `MOST_TURNS` and `ROWS`.
"""

# -- a file ------------------------------------------------------------------------------

#: Bytes: a minute of two channels at 48 kHz in 32 bits is 23 MB.
LARGEST = 50_000_000
LARGEST_TABLE = 5_000_000
#: Time that is used of it [s].
LONGEST = 60.0
#: Samples a second of a sound; the second is also the most of a table.
RATES = (1000, 200_000)
#: Samples.
FEWEST = 64
#: Loudest sample that a sound of floats may hold, of full scale: whole numbers of 32 bits.
LOUDEST = 2.0**32
#: Share of samples at full scale from which a sound counts as clipped, common practice.
CLIPPED = 2e-3
#: Loudest sample, of full scale, below which a sound counts as silent.
QUIET = 1e-3
#: Largest reading of current [A] or speed [rad/s] that a table may hold.
LARGEST_READING = 1e9

# -- a record of a drive -----------------------------------------------------------------

#: Turns of the axle without which neighboring orders cannot be told apart.
FEWEST_TURNS = 6.0
#: Turns that are fitted at once; the columns of the fit grow with them.
MOST_TURNS = 300.0
#: Times that the mean of a record may exceed what the drive can do at most, and a reading.
BEYOND, READING_BEYOND = 2.0, 8.0
#: Readings a turn of the motor, at least, that a record of speed is thinned out to.
A_TURN = 16
#: Samples a second to which a quicker sound or current is thinned out: all that teeth and rush need.
ENOUGH = 6000
#: Samples whose waves are held at once.
ROWS = 4096
