DROP INDEX "month_totals_by_month";--> statement-breakpoint
ALTER TABLE "log_digests" ADD COLUMN "problem_count" integer GENERATED ALWAYS AS (jsonb_array_length(problems)) STORED NOT NULL;--> statement-breakpoint
ALTER TABLE "machine_months" ADD COLUMN "kinds" text GENERATED ALWAYS AS ((summary -> 'kinds')::text) STORED NOT NULL;--> statement-breakpoint
CREATE INDEX "month_totals_by_month" ON "month_totals" USING btree ("site_id","month","machine_id","log_id");