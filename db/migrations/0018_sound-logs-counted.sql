DROP INDEX "month_digests_by_month";--> statement-breakpoint
ALTER TABLE "month_digests" ADD COLUMN "is_sound" boolean;--> statement-breakpoint
UPDATE "month_digests" m SET "is_sound" = d.problem_count = 0 AND d.model_trusted
FROM "log_digests" d
WHERE d.machine_id = m.machine_id AND d.log_id = m.log_id;--> statement-breakpoint
CREATE INDEX "month_digests_by_month" ON "month_digests" USING btree ("site_id","month","machine_id","is_sound");