-- Why a recording does not count is a code with its argument: the trainer's reason, or the recording that
-- counts instead. Earlier versions kept a sentence.
ALTER TABLE recording ADD COLUMN aside_of TEXT NOT NULL DEFAULT '';
UPDATE recording SET aside = 'excluded', aside_of = substr(aside, 11) WHERE substr(aside, 1, 10) = 'excluded: ';
UPDATE recording SET aside = 'same-workout', aside_of = substr(aside, 21) WHERE substr(aside, 1, 20) = 'the same workout as ';
UPDATE recording SET aside = 'written', aside_of = aside WHERE aside NOT IN ('', 'excluded', 'same-workout');
