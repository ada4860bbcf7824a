ALTER TABLE "log_digests" ADD COLUMN "problems" jsonb DEFAULT '[]'::jsonb NOT NULL;--> statement-breakpoint
UPDATE "log_digests" SET "problems" = coalesce("analyses"."analysis" #> '{log,problems}', '[]'::jsonb) FROM "analyses" WHERE "analyses"."machine_id" = "log_digests"."machine_id" AND "analyses"."log_id" = "log_digests"."log_id";
