-- The day from which a note or a reported session counts no longer, since it was entered by mistake.
-- Assessments of earlier days still know it.
ALTER TABLE note ADD COLUMN withdrawn INTEGER CHECK (withdrawn > 0);
ALTER TABLE report ADD COLUMN withdrawn INTEGER CHECK (withdrawn > 0);
