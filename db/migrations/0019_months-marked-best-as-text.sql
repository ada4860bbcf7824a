DROP INDEX "machine_months_by_month";--> statement-breakpoint
ALTER TABLE "log_digests" ALTER COLUMN "best" SET DATA TYPE json;--> statement-breakpoint
ALTER TABLE "log_digests" ADD COLUMN "best_option" text GENERATED ALWAYS AS (best ->> 'id') STORED;--> statement-breakpoint
ALTER TABLE "log_digests" ADD COLUMN "best_saved_kwh_per_year" double precision GENERATED ALWAYS AS ((best -> 'savedKWhPerYear' ->> 'value')::double precision) STORED;--> statement-breakpoint
CREATE INDEX "machine_months_by_month" ON "machine_months" USING btree ("site_id","month","machine_id","updated_at");