ALTER TABLE "analyses" ADD COLUMN "reading_inputs" text NOT NULL;--> statement-breakpoint
ALTER TABLE "analyses" ADD COLUMN "computing_inputs" text NOT NULL;--> statement-breakpoint
ALTER TABLE "month_totals" ADD COLUMN "cycles" double precision NOT NULL;