"""What the solver is given and what it gives back: plain records, whole numbers of one unit."""

from collections import namedtuple

# One stretch of one course, from end to end.
# wall, course  0-based; courses of one wall that differ by 1 are neighbours
# left, right   where its first and last piece end
# studs         list of (number, at), left to right: those that may carry a joint
# more          (left, right): allowance added to the piece that ends there
# joints        None, or the list of (stud, offset) it already has: it hangs, it stays
Run = namedtuple("Run", "wall course left right studs more joints")

# Boards to be had: offcuts on site are stock at a cost of 0.
# length  whole; cost: 0 or more in any whole unit; count: how many, or None
# gone    ends that are no longer the factory's: 0 none, 1 left, 2 right, 3 both
Stock = namedtuple("Stock", "length cost count gone")

# kerf, trim    between two pieces of a board; off either end of each board
# joint_gap     at each joint; the odd unit is taken off the piece on its right
# shortest      of a piece beside a joint
# offsets       where a joint may sit from its stud's centre
# stagger       least distance of studs with joints in courses 1 apart; never the same stud
# reach         in courses 2..reach apart joints are not on the same stud
# matched       ends match, so no board is turned: see the kinds in model.py
# soft, soft_reach  look: joints of neighbours nearer than soft, the same stud up to
#               soft_reach courses apart
# kept          at most so many offcuts wait for later courses at one time, or None: see keeping.py
Rules = namedtuple(
    "Rules", "kerf trim joint_gap shortest offsets stagger reach matched soft soft_reach kept"
)

# A board that was begun, or that is no good.
# stock   its place among the stock, or -1 where no more of its kind are to be had
# pieces  the (run, piece) cut from it already
# left    how much of it may still be cut up, 0 where nothing is; gone: its ends, as stock's
# cost    what it cost
Cut = namedtuple("Cut", "stock pieces left gone cost")

# runs: list of Run; stock: list of Stock; cuts: list of Cut
Problem = namedtuple("Problem", "runs stock rules cuts")

# joints       for each run its list of (stud, offset)
# boards       list of (stock index, list of (run, piece)); the cuts given come first
# cost         what all boards cost; bound: no plan costs less; proven: they meet
# certificate  the proof: see bounds.py; None while nothing is proven
# look         the score of look.py
# steps        moves made, and pivots of dives
# refuted      where the bound is more than the certificate's: each choice of boards that
#              costs less, and why it doesn't do: see finish.py; else empty
Answer = namedtuple("Answer", "joints boards cost bound proven certificate look steps refuted")

# What a caller of solve is told when something better is found: done is the share
# of the search's steps, 0 to 1.
Progress = namedtuple("Progress", "cost bound look done")
