ALTER TABLE "report_runs" ADD COLUMN "started_at" timestamp with time zone;--> statement-breakpoint
ALTER TABLE "report_runs" ADD COLUMN "deleted_at" timestamp with time zone;