"""Many instruments at once: what a batch's scatter makes of a design, by thousands of builds.

Builds are drawn in blocks with seeds of their own, solved in chunks, and kept in Parquet files
that a later run goes on from. This room knows no screen, no money and no printer: scatters come
to it as standard deviations.
"""

from borewright.listing import names
from borewright.studies.batch_fit import fit_for_batch as fit_for_batch
from borewright.studies.bore_search import search_bores as search_bores
from borewright.studies.chunks import solve_chunk as solve_chunk
from borewright.studies.judging import Rule as Rule
from borewright.studies.plan import Study as Study
from borewright.studies.plan import study_of as study_of
from borewright.studies.running import Solving as Solving
from borewright.studies.running import run_study as run_study
from borewright.studies.running import solved_here as solved_here
from borewright.studies.sample import Sample as Sample
from borewright.studies.shares import share_of as share_of
from borewright.studies.siblings import SIBLINGS as SIBLINGS
from borewright.studies.siblings import Sibling as Sibling
from borewright.studies.siblings import siblings_of as siblings_of
from borewright.studies.spread import spread_over as spread_over
from borewright.studies.ways import Way as Way
from borewright.studies.ways import taken_together as taken_together
from borewright.studies.ways import way_yield as way_yield
from borewright.studies.yields import yield_of as yield_of

__all__ = names(__file__)
